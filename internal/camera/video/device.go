// SPDX-License-Identifier: Apache-2.0

package video

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Wish is what is wanted of a camera.
type Wish struct {
	Width, Height int
	Rate          float64 // pictures a second; 0: as the camera likes
}

// Frame is one picture as it came.
type Frame struct {
	Format        Format
	Width, Height int
	Stride        int // bytes a row; YUYV only
	Data          []byte
}

// Device is an open camera that sends pictures.
type Device struct {
	kernel  Kernel
	path    string
	buffers [][]byte
	format  Format
	stride  int
	wish    Wish

	About
}

// About is what a camera was found to be.
type About struct {
	Card    string   `json:"card"`    // as it calls itself
	Rate    float64  `json:"rate"`    // pictures a second that it promised; 0: it did not say
	Held    []string `json:"held"`    // what no longer regulates itself
	Refused []string `json:"refused"` // what it would not do, each a sentence
}

// Told is what is known of the camera so far.
func (d *Device) Told() About {
	a := d.About
	a.Held, a.Refused = slices.Clone(a.Held), slices.Clone(a.Refused)
	return a
}

// Open opens the device at a path and starts its pictures in the size wished for.
// Motion JPEG is taken where there is such, since USB carries it faster. A camera
// without that size is an error that lists the sizes it has.
func Open(path string, w Wish) (*Device, error) {
	k, err := openKernel(path)
	if err != nil {
		return nil, err
	}
	return Start(k, path, w)
}

// Start does that with a device that is open; it closes it on an error.
func Start(k Kernel, path string, w Wish) (*Device, error) {
	d := &Device{kernel: k, path: path, wish: w}
	for _, step := range []func() error{d.identify, d.choose, d.setRate, d.mapBuffers, d.stream} {
		if err := step(); err != nil {
			_ = k.Close() // the first error is the one to tell
			return nil, fmt.Errorf("camera %s: %w", path, err)
		}
	}
	return d, nil
}

func (d *Device) pass(r request, m message) error { return d.kernel.Ioctl(uint32(r), m) }

// identify asks what the device is.
func (d *Device) identify() error {
	m := make(message, capabilitySize)
	if err := d.pass(queryCapability, m); err != nil {
		return fmt.Errorf("it is no video device: %w", err)
	}
	d.Card = m.text(capCard, 32)
	can := m.at(capAll)
	if can&hasNodeCaps != 0 {
		can = m.at(capOf)
	}
	if can&canCapture == 0 || can&canStream == 0 {
		return fmt.Errorf("%s sends no pictures here: a camera has several devices, try the next number or one with index0 in /dev/v4l/by-id", d.Card)
	}
	return nil
}

// formats lists what the camera sends.
func (d *Device) formats() (out []Format) {
	for k := uint32(0); k < mostListed; k++ {
		m := make(message, fmtdescSize)
		m.put(0, k)
		m.put(4, typeCapture)
		if d.pass(enumFormat, m) != nil {
			break
		}
		out = append(out, Format(m.at(descFourCC)))
	}
	return out
}

// Size is width and height of a picture.
type Size struct{ Width, Height int }

// sizes lists those that a format comes in; a continuous range is left out.
func (d *Device) sizes(f Format) (out []Size) {
	for k := uint32(0); k < mostListed; k++ {
		m := make(message, framesizeSize)
		m.put(0, k)
		m.put(4, uint32(f))
		if d.pass(enumFrameSize, m) != nil || m.at(sizeKind) != discrete {
			break
		}
		out = append(out, Size{int(m.at(sizeFirst)), int(m.at(sizeFirst + 4))})
	}
	return out
}

// choose sets format and size.
func (d *Device) choose() error {
	offered := d.formats()
	var got []string
	for _, f := range []Format{MJPG, YUYV} {
		if !slices.Contains(offered, f) {
			continue
		}
		size, err := d.setFormat(f)
		if err != nil {
			return err
		}
		if size == (Size{d.wish.Width, d.wish.Height}) {
			return nil
		}
		got = append(got, d.describe(f))
	}
	if len(got) == 0 {
		return fmt.Errorf("it sends neither motion JPEG nor YUYV, but %s: another camera is needed", words(offered))
	}
	return fmt.Errorf("it has no pictures of %d × %d: set camera.image to a size that it has: %s", d.wish.Width, d.wish.Height, strings.Join(got, "; "))
}

// setFormat asks for a format and size; the driver answers with what it will send.
func (d *Device) setFormat(f Format) (Size, error) {
	m := make(message, formatSize)
	m.put(0, typeCapture)
	m.put(pixWidth, uint32(d.wish.Width))
	m.put(pixHeight, uint32(d.wish.Height))
	m.put(pixFourCC, uint32(f))
	m.put(pixField, fieldNone)
	if err := d.pass(setFormat, m); err != nil {
		return Size{}, fmt.Errorf("it takes no size for its pictures: %w", err)
	}
	if Format(m.at(pixFourCC)) != f {
		return Size{}, nil
	}
	d.format, d.stride = f, max(int(m.at(pixStride)), 2*d.wish.Width)
	return Size{int(m.at(pixWidth)), int(m.at(pixHeight))}, nil
}

func (d *Device) describe(f Format) string {
	var names []string
	for _, s := range d.sizes(f) {
		if r := d.fastest(f, s); r > 0 {
			names = append(names, fmt.Sprintf("%d × %d to %.0f a second", s.Width, s.Height, r))
		} else {
			names = append(names, fmt.Sprintf("%d × %d", s.Width, s.Height))
		}
	}
	if len(names) == 0 {
		return f.String() + " of sizes that it does not list"
	}
	return f.String() + " " + strings.Join(names, ", ")
}

// fastest is the best rate for a size, pictures a second; 0: it does not say.
func (d *Device) fastest(f Format, s Size) (rate float64) {
	for k := uint32(0); k < mostListed; k++ {
		m := make(message, intervalSize)
		m.put(0, k)
		m.put(intervalFourCC, uint32(f))
		m.put(intervalWidth, uint32(s.Width))
		m.put(intervalHeight, uint32(s.Height))
		if d.pass(enumInterval, m) != nil || m.at(intervalKind) != discrete {
			break
		}
		if n := m.at(intervalFirst); n > 0 {
			rate = max(rate, float64(m.at(intervalFirst+4))/float64(n))
		}
	}
	return rate
}

func words(offered []Format) string {
	if len(offered) == 0 {
		return "nothing that it names"
	}
	var names []string
	for _, f := range offered {
		names = append(names, f.String())
	}
	return strings.Join(names, ", ")
}

// setRate asks for a rate; a camera that has but one says so.
func (d *Device) setRate() error {
	if d.wish.Rate <= 0 {
		return nil
	}
	m := make(message, parmSize)
	m.put(0, typeCapture)
	m.put(parmPeriod, rateUnit)
	m.put(parmPeriod+4, uint32(d.wish.Rate*rateUnit+0.5))
	err := d.pass(setParm, m)
	switch {
	case errors.Is(err, errGone):
		return err
	case err != nil || m.at(parmCapability)&parmPeriodSet == 0:
		d.Refused = append(d.Refused, "it does not let its rate be set")
		return nil
	}
	if n := m.at(parmPeriod); n > 0 {
		d.Rate = float64(m.at(parmPeriod+4)) / float64(n)
	}
	return nil
}

// mapBuffers has the driver make room for pictures and makes it readable.
func (d *Device) mapBuffers() error {
	m := make(message, requestSize)
	m.put(0, bufferCount)
	m.put(4, typeCapture)
	m.put(8, memoryMapped)
	if err := d.pass(requestBuffers, m); err != nil {
		return fmt.Errorf("it gives no room for pictures: %w", err)
	}
	n := m.at(0)
	if n < 2 || n > mostListed {
		return fmt.Errorf("it gives room for %d pictures; 2 are needed: unplug it and plug it in again", n)
	}
	for k := range n {
		m := d.buffer(k)
		if err := d.pass(queryBuffer, m); err != nil {
			return err
		}
		b, err := d.kernel.Map(int64(m.at(bufOffset)), int(m.at(bufLength)))
		if err != nil {
			return fmt.Errorf("its pictures cannot be read: %w", err)
		}
		d.buffers = append(d.buffers, b)
		if err := d.pass(queueBuffer, d.buffer(k)); err != nil {
			return err
		}
	}
	return nil
}

func (d *Device) buffer(k uint32) message {
	m := make(message, bufferSize)
	m.put(0, k)
	m.put(4, typeCapture)
	m.put(bufMemory, memoryMapped)
	return m
}

func (d *Device) stream() error {
	m := make(message, intSize)
	m.put(0, typeCapture)
	if err := d.pass(streamOn, m); err != nil {
		return fmt.Errorf("it does not start: %w", err)
	}
	return nil
}

// Next waits for the next whole picture; ErrSilent when none comes in that time.
// The frame's data is the caller's.
func (d *Device) Next(most time.Duration) (Frame, error) {
	for range mostBroken {
		ready, err := d.kernel.Wait(most)
		if err != nil {
			return Frame{}, err
		}
		if !ready {
			return Frame{}, ErrSilent
		}
		f, err := d.take()
		if errors.Is(err, errAgain) || errors.Is(err, errBroken) {
			continue
		}
		return f, err
	}
	return Frame{}, errBroken
}

// ErrSilent says that a camera sent nothing.
var ErrSilent = errors.New("no picture came")

var errBroken = errors.New("its pictures arrive broken: give it a port of its own and a shorter cable, or ask for a smaller camera.image")

// take copies the oldest picture that is ready and gives its buffer back.
func (d *Device) take() (Frame, error) {
	m := d.buffer(0)
	if err := d.pass(dequeueBuffer, m); err != nil {
		return Frame{}, err
	}
	k, used := m.at(0), int(m.at(bufUsed))
	if int(k) >= len(d.buffers) || used > len(d.buffers[k]) {
		return Frame{}, fmt.Errorf("%w: the driver names buffer %d with %d bytes", errGone, k, used)
	}
	f := Frame{Format: d.format, Width: d.wish.Width, Height: d.wish.Height, Stride: d.stride, Data: slices.Clone(d.buffers[k][:used])}
	if err := d.pass(queueBuffer, d.buffer(k)); err != nil {
		return Frame{}, err
	}
	if m.at(bufFlags)&bufferBroken != 0 || used == 0 || d.format == YUYV && used < d.stride*d.wish.Height {
		return f, errBroken
	}
	return f, nil
}

// Close stops the pictures and closes the device.
func (d *Device) Close() error {
	m := make(message, intSize)
	m.put(0, typeCapture)
	_ = d.pass(streamOff, m) // a device that is gone has stopped
	return d.kernel.Close()
}
