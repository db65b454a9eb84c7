// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"

	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/rig"
)

type spot = frame.Spot[frame.Machine]

// Gantry drives the axes and the lift of one rig by its motors. One motion runs at
// a time; Halt may come while it does.
type Gantry struct {
	axes   [2]*axis
	lift   *axis
	folder *heard

	clock gantry.Clock
	latch gantry.Latch
	order sync.Mutex // held while the motors are told something: after a halt nothing but stop

	isHeld atomic.Bool // strokes stand on their way

	mu  sync.Mutex
	at  spot    // where the axes were last
	top float64 // highest that the lift has been, counts; 0: not yet
}

// New prepares the gantry of a rig; nothing is written, nothing moves.
func New(r *rig.Rig, f Folder) (*Gantry, error) {
	g := &Gantry{clock: gantry.RealTime{}}
	g.folder = &heard{Folder: f, clock: func() gantry.Clock { return g.clock }}
	var err error
	for i, name := range []string{"x", "y"} {
		if g.axes[i], err = axisOf(r, g.folder, name); err != nil {
			return nil, fmt.Errorf("%s: %w", r.Name(), err)
		}
	}
	m, err := motorsOf(g.folder, r.Controller.Motor["lift"])
	if err != nil {
		return nil, fmt.Errorf("%s: controller.motor.lift: %w", r.Name(), err)
	}
	g.lift = &axis{Axis: gantry.Axis{Name: "lift"}, motors: m}
	return g, nil
}

// By has the gantry wait by another clock than the one on the wall; it comes before
// anything else.
func (g *Gantry) By(c gantry.Clock) *Gantry {
	g.clock = c
	return g
}

// Open looks for every motor at its port and moves nothing.
func (g *Gantry) Open() error {
	for _, a := range []*axis{g.axes[0], g.axes[1], g.lift} {
		for _, m := range a.motors {
			if err := m.find(); err != nil {
				return err
			}
		}
	}
	return nil
}

// tell tells the motors something, unless the gantry was halted or the context ended.
func (g *Gantry) tell(ctx context.Context, what func() error) error {
	g.order.Lock()
	defer g.order.Unlock()
	if g.latch.IsHeld() {
		return gantry.ErrHalted
	}
	if err := context.Cause(ctx); err != nil {
		return err
	}
	return what()
}

// Halt stops all axes at once and leaves them stopped until Home; the lift stays
// where it is. It may be called while another method runs.
func (g *Gantry) Halt() error {
	g.order.Lock()
	g.latch.Hold()
	g.isHeld.Store(false)
	err := g.stopAll()
	g.order.Unlock()
	g.latch.Stop()
	if err != nil {
		g.latch.Distrust(err)
	}
	return err
}

// stopAll stops every motor that has been found; all are told, whatever fails.
func (g *Gantry) stopAll() error {
	var err error
	for _, a := range []*axis{g.axes[0], g.axes[1], g.lift} {
		a.isDirect = false
		for _, m := range a.motors {
			if m.name != "" {
				err = errors.Join(err, m.write("stop_action", "brake", "command", "stop"))
			}
		}
	}
	return err
}

// broken ends a motion that failed: all motors stop, and are given time to. A motor
// that cannot be told makes the place unknown.
func (g *Gantry) broken(ctx context.Context, err error) error {
	g.order.Lock()
	stopped := g.stopAll()
	g.order.Unlock()
	_ = gantry.Pause(context.WithoutCancel(ctx), g.clock, relax)
	if stopped != nil {
		g.latch.Distrust(stopped)
	}
	return err
}

// Close stops the motors and lets them go.
func (g *Gantry) Close() error {
	err := g.Halt()
	g.order.Lock()
	defer g.order.Unlock()
	for _, a := range []*axis{g.axes[0], g.axes[1], g.lift} {
		for _, m := range a.motors {
			if m.name != "" {
				err = errors.Join(err, m.write("command", "reset"))
			}
		}
	}
	return err
}

// read asks the axes where they are and keeps it.
func (g *Gantry) read() (spot, error) {
	var at [2]float64
	for i, a := range g.axes {
		n, err := a.position()
		if err != nil {
			return g.here(), err
		}
		at[i] = n / a.PerMetre
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	g.at = spot{X: at[0], Y: at[1]}
	return g.at, nil
}

// heard keeps where an axis was read to be.
func (g *Gantry) heard(axis int, at float64) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if axis == 0 {
		g.at.X = at
	} else {
		g.at.Y = at
	}
}

// here is where the axes were last.
func (g *Gantry) here() spot {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.at
}
