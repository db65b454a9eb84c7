// SPDX-License-Identifier: Apache-2.0

package video

import (
	"fmt"
	"slices"
	"time"
)

// driver answers as the Linux media documentation has a driver answer: a camera with
// some formats, sizes and controls, and some ways to go wrong.
type driver struct {
	can      uint32
	offers   map[Format][]Size
	controls map[uint32]uint32
	refuses  map[uint32]bool // controls that cannot be set
	fixed    bool            // its rate
	pictures [][]byte        // sent one after another, for ever
	broken   int             // so many pictures are marked as broken first
	silent   bool
	gone     int // it is unplugged after so many pictures; 0: never

	format  Format
	size    Size
	buffers [][]byte
	queue   []uint32
	sent    int
	on      bool
	closed  bool
}

func newDriver(pictures ...[]byte) *driver {
	return &driver{can: canCapture | canStream, pictures: pictures,
		offers:   map[Format][]Size{MJPG: {{1280, 720}, {640, 480}}, YUYV: {{640, 480}, {8, 4}}},
		controls: map[uint32]uint32{0x009a0901: 3, 0x009a0902: 250, 0x0098090c: 1, 0x0098091a: 4600, 0x009a0903: 1},
	}
}

// order is in which a device is asked for its formats.
var order = []Format{MJPG, YUYV, 'H' | '2'<<8 | '6'<<16 | '4'<<24}

func (d *driver) Ioctl(r uint32, arg []byte) error {
	m := message(arg)
	switch request(r) {
	case queryCapability:
		copy(m[capCard:], "Eye of the test")
		m.put(capAll, d.can|hasNodeCaps)
		m.put(capOf, d.can)
	case enumFormat:
		var have []Format
		for _, f := range order {
			if _, ok := d.offers[f]; ok {
				have = append(have, f)
			}
		}
		return d.list(m, len(have), func(k int) { m.put(descFourCC, uint32(have[k])) })
	case enumFrameSize:
		sizes := d.offers[Format(m.at(4))]
		return d.list(m, len(sizes), func(k int) {
			m.put(sizeKind, discrete)
			m.put(sizeFirst, uint32(sizes[k].Width))
			m.put(sizeFirst+4, uint32(sizes[k].Height))
		})
	case enumInterval:
		return d.list(m, 1, func(int) {
			m.put(intervalKind, discrete)
			m.put(intervalFirst, 1)
			m.put(intervalFirst+4, 30)
		})
	case setFormat:
		d.take(m)
	case setParm:
		if !d.fixed {
			m.put(parmCapability, parmPeriodSet)
		}
	default:
		return d.streaming(request(r), m)
	}
	return nil
}

// list answers one entry of a list.
func (d *driver) list(m message, n int, write func(int)) error {
	if k := int(m.at(0)); k < n {
		write(k)
		return nil
	}
	return errNotTaken
}

// take sets the nearest format, as drivers do.
func (d *driver) take(m message) {
	d.format = Format(m.at(pixFourCC))
	want := Size{int(m.at(pixWidth)), int(m.at(pixHeight))}
	d.size = d.offers[d.format][0]
	if slices.Contains(d.offers[d.format], want) {
		d.size = want
	}
	m.put(pixWidth, uint32(d.size.Width))
	m.put(pixHeight, uint32(d.size.Height))
	m.put(pixStride, uint32(2*d.size.Width))
}

func (d *driver) streaming(r request, m message) error {
	switch r {
	case requestBuffers:
		d.buffers = make([][]byte, m.at(0))
		for k := range d.buffers {
			d.buffers[k] = make([]byte, 1<<16)
		}
	case queryBuffer:
		m.put(bufLength, 1<<16)
		m.put(bufOffset, m.at(0)*1<<16)
	case queueBuffer:
		d.queue = append(d.queue, m.at(0))
	case dequeueBuffer:
		return d.dequeue(m)
	case streamOn, streamOff:
		d.on = r == streamOn
	default:
		return d.control(r, m)
	}
	return nil
}

func (d *driver) dequeue(m message) error {
	if d.gone > 0 && d.sent >= d.gone {
		return errGone
	}
	if len(d.queue) == 0 || !d.on {
		return errAgain
	}
	k := d.queue[0]
	d.queue = d.queue[1:]
	m.put(0, k)
	m.put(bufUsed, uint32(copy(d.buffers[k], d.pictures[d.sent%len(d.pictures)])))
	if d.sent++; d.sent <= d.broken {
		m.put(bufFlags, bufferBroken)
	}
	return nil
}

func (d *driver) control(r request, m message) error {
	id := m.at(0)
	v, ok := d.controls[id]
	switch {
	case !ok:
		return errNotTaken
	case r == getControl:
		m.put(4, v)
	case r == setControl && d.refuses[id]:
		return errNotTaken
	case r == setControl:
		d.controls[id] = m.at(4)
	case r != queryControl:
		return fmt.Errorf("no such request %08x", uint32(r))
	}
	return nil
}

func (d *driver) Map(offset int64, _ int) ([]byte, error) { return d.buffers[offset>>16], nil }

func (d *driver) Wait(time.Duration) (bool, error) { return !d.silent, nil }

func (d *driver) Close() error {
	d.closed = true
	return nil
}
