// SPDX-License-Identifier: Apache-2.0

// Package wire spoils what goes over a stream, for test beds: bytes come late, get
// lost, come twice or changed, and the device is unplugged and comes back under
// another name. The same seed and the same bytes give the same faults each way.
package wire

import (
	"io"
	"math/rand/v2"
	"sync"
	"time"

	"boardhand/internal/gantry/clock"
)

// Faults are how likely each fault is for a byte, 0 to 1, each way.
type Faults struct {
	Seed      uint64
	Loss      float64 // it never arrives
	Double    float64 // it arrives twice
	Corrupt   float64 // one of its bits is turned
	Late      float64 // what was sent with it arrives after Delay
	Delay     time.Duration
	OneWay    bool // only what the host sends
	Protected string
}

// Line is a stream with faults. Protected bytes are never touched: without them, as
// line ends, a test can tell a lost byte from lost lines.
type Line struct {
	inner     io.ReadWriteCloser
	clock     *clock.Clock
	out, back way
	parcels   chan parcel
	over      chan struct{}
	once      sync.Once
}

// way is one direction.
type way struct {
	turn   chan struct{} // holds one: who waits for it waits in bubble time too
	mu     sync.Mutex
	faults Faults
	chance *rand.Rand
	count  int
	over   []byte // spoilt, and more than the reader had room for
}

// New puts a line with faults around a stream; delays pass by the clock.
func New(inner io.ReadWriteCloser, f Faults, c *clock.Clock) *Line {
	l := &Line{inner: inner, clock: c, parcels: make(chan parcel, 1000), over: make(chan struct{})}
	l.out = way{faults: f, chance: rand.New(rand.NewPCG(f.Seed, 1))}
	if f.OneWay {
		f = Faults{Seed: f.Seed}
	}
	l.back = way{turn: make(chan struct{}, 1), faults: f, chance: rand.New(rand.NewPCG(f.Seed, 2))}
	if l.out.faults.Late > 0 {
		go l.carry()
	}
	return l
}

// Count is how many bytes have been spoilt each way.
func (l *Line) Count() (out, back int) { return l.out.counted(), l.back.counted() }

func (w *way) counted() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.count
}

// Write sends bytes; as on a real line the sender hears nothing of faults, nor of
// bytes that are still on the way.
func (l *Line) Write(p []byte) (int, error) {
	spoilt, late := l.out.spoil(p)
	if len(spoilt) == 0 {
		return len(p), nil
	}
	if l.out.faults.Late == 0 {
		if _, err := l.inner.Write(spoilt); err != nil {
			return 0, err
		}
		return len(p), nil
	}
	select {
	case l.parcels <- parcel{spoilt, late}:
		return len(p), nil
	case <-l.over:
		return 0, io.ErrClosedPipe
	}
}

// parcel is what was written at once.
type parcel struct {
	bytes []byte
	late  bool
}

// carry brings parcels over, in their order.
func (l *Line) carry() {
	for {
		select {
		case p := <-l.parcels:
			if p.late {
				l.clock.Sleep(l.out.faults.Delay)
			}
			if _, err := l.inner.Write(p.bytes); err != nil {
				return
			}
		case <-l.over:
			return
		}
	}
}

// Read receives bytes.
func (l *Line) Read(p []byte) (int, error) {
	l.back.turn <- struct{}{}
	defer func() { <-l.back.turn }()
	for len(l.back.over) == 0 {
		got := make([]byte, 256)
		n, err := l.inner.Read(got)
		spoilt, late := l.back.spoil(got[:n])
		if late {
			l.clock.Sleep(l.back.faults.Delay)
		}
		l.back.over = append(l.back.over, spoilt...)
		if err != nil && len(l.back.over) == 0 {
			return 0, err
		}
	}
	n := copy(p, l.back.over)
	l.back.over = l.back.over[n:]
	return n, nil
}

// Close ends the stream.
func (l *Line) Close() error {
	l.once.Do(func() { close(l.over) })
	return l.inner.Close()
}

// spoil does what the faults do to bytes.
func (w *way) spoil(p []byte) (out []byte, late bool) {
	f := w.faults
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, b := range p {
		// The same draws for each byte, so that one fault's rate does not move another's.
		lost, double, corrupt, slow, bit := w.chance.Float64() < f.Loss, w.chance.Float64() < f.Double, w.chance.Float64() < f.Corrupt, w.chance.Float64() < f.Late, w.chance.IntN(8)
		if isOne(b, f.Protected) {
			out = append(out, b)
			continue
		}
		late = late || slow
		if lost || double || corrupt || slow {
			w.count++
		}
		if corrupt {
			b ^= 1 << bit
		}
		if !lost {
			out = append(out, b)
		}
		if double && !lost {
			out = append(out, b)
		}
	}
	return out, late
}

func isOne(b byte, of string) bool {
	for _, c := range []byte(of) {
		if b == c {
			return true
		}
	}
	return false
}
