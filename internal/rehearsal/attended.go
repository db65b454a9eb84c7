// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"sync"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/photo"
)

// Attended is a Driven with its camera that somebody outside its time can halt, as a page does.
// Its time passes only while it is told to do something: while nothing is on it stands, and so
// does the machine.
type Attended struct {
	*Driven
	camera Camera

	mu   sync.Mutex
	isOn bool  // something is being done
	halt *halt // asked for, and not passed on yet; nil: none is
}

// halt is one that is to reach the driver.
type halt struct {
	done chan struct{}
	err  error
}

// Attended is the gantry with a camera whose pictures come in its time.
func (d *Driven) Attended(c Camera) *Attended {
	return &Attended{Driven: d, camera: d.SeenBy(c)}
}

// Halt has the driver stop everything: in the middle of what is on, else before it does
// anything again. It may be called from anywhere.
func (a *Attended) Halt() error {
	a.mu.Lock()
	if a.halt == nil {
		a.halt = &halt{done: make(chan struct{})}
	}
	h, isOn := a.halt, a.isOn
	if isOn {
		a.Clock.Go(func() { a.pass(a.take()) })
	}
	a.mu.Unlock()
	if !isOn {
		return nil
	}
	<-h.done
	return h.err
}

// take is the halt to be passed on now; nil: none is, or somebody else does it.
func (a *Attended) take() (h *halt) {
	a.mu.Lock()
	defer a.mu.Unlock()
	h, a.halt = a.halt, nil
	return h
}

// pass passes a halt on to the driver; it is called in the driver's time.
func (a *Attended) pass(h *halt) {
	if h != nil {
		h.err = a.Driven.Halt()
		close(h.done)
	}
}

// on runs something in the driver's time: a halt comes before it, in it, or after it.
func (a *Attended) on(do func()) {
	for {
		a.mu.Lock()
		h := a.halt
		a.halt, a.isOn = nil, h == nil
		a.mu.Unlock()
		if h == nil {
			break
		}
		a.pass(h)
	}
	do()
	a.mu.Lock()
	a.isOn = false
	a.mu.Unlock()
	a.pass(a.take())
}

// Home has the driver home.
func (a *Attended) Home(ctx context.Context) (at frame.Spot[frame.Machine], err error) {
	a.on(func() { at, err = a.Driven.Home(ctx) })
	return at, err
}

// Move has the driver run a stroke.
func (a *Attended) Move(ctx context.Context, s motion.Stroke) (at frame.Spot[frame.Machine], err error) {
	a.on(func() { at, err = a.Driven.Move(ctx, s) })
	return at, err
}

// Lift has the driver raise or lower the magnet.
func (a *Attended) Lift(ctx context.Context, raised bool) (err error) {
	a.on(func() { err = a.Driven.Lift(ctx, raised) })
	return err
}

// Look waits for the next picture.
func (a *Attended) Look(ctx context.Context) (p photo.Picture, err error) {
	a.on(func() { p, err = a.camera.Look(ctx) })
	return p, err
}
