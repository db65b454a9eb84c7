// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/rig"
)

// Gantry drives the axes and the lift of one rig by its controller. It opens the
// wire with the first Home. One motion runs at a time; Halt may come while it does.
type Gantry struct {
	expected expected
	open     gantry.Opener
	complain func(string)
	baud     int
	saying   sync.Mutex // held while it complains

	latch gantry.Latch
	order sync.Mutex // held while the controller is told to hold or to go on: nothing goes on after a halt

	mu        sync.Mutex
	link      *link     // nil: the wire is not open
	spoke     time.Time // when it last complained
	kept      int       // complaints since
	writer    writer
	raised    float64 // lift as an axis: wire coordinate when raised, m
	lowered   float64 // and when lowered, m
	at        spot    // where the axes are said to be
	isHeld    bool    // strokes stand on their way
	isRunning bool    // a stroke is on its way to the controller
	dry       int     // times the controller had nothing to do in the middle of a stroke
}

// New prepares the gantry of a rig; nothing is opened, nothing moves. Complaints
// come to complain, at most one a second.
func New(r *rig.Rig, open gantry.Opener, complain func(string)) (*Gantry, error) {
	e, err := expectedOf(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	return &Gantry{expected: e, open: open, complain: complain, baud: r.Controller.Baud}, nil
}

// Halt stops all axes at once and leaves them stopped until Home: the feed hold
// goes out before anything else, whatever runs.
func (g *Gantry) Halt() error {
	err := g.halt()
	g.latch.Stop()
	return err
}

func (g *Gantry) halt() error {
	g.order.Lock()
	defer g.order.Unlock()
	isHomed := g.latch.Hold()
	g.release()
	g.mu.Lock()
	l := g.link
	g.mu.Unlock()
	switch {
	case l == nil || l.why() != nil:
	case isHomed:
		return l.write(feedHold)
	default: // a feed hold does not stop homing
		l.fail(gantry.ErrHalted)
		l.awaitStop()
	}
	return nil
}

// distrust notes that nobody knows where the axes are.
func (g *Gantry) distrust(err error) {
	g.latch.Distrust(err)
	g.mu.Lock()
	now := time.Now()
	isQuiet := errors.Is(err, gantry.ErrHalted) || !g.spoke.IsZero() && now.Sub(g.spoke) < complainEvery
	said := err.Error()
	if isQuiet {
		g.kept++
	} else {
		if g.kept > 0 {
			said = fmt.Sprintf("%s (and %d complaints before)", said, g.kept)
		}
		g.spoke, g.kept = now, 0
	}
	g.mu.Unlock()
	if !isQuiet && g.complain != nil {
		g.saying.Lock()
		defer g.saying.Unlock()
		g.complain(said)
	}
}

// Close ends the conversation; the axes stay stopped.
func (g *Gantry) Close() error {
	err := g.Halt()
	g.mu.Lock()
	l := g.link
	g.mu.Unlock()
	if l == nil {
		return err
	}
	return errors.Join(err, l.close())
}

// here is where the axes are said to be.
func (g *Gantry) here() frame.Spot[frame.Machine] {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.at
}

// learn takes the place that a status tells.
func (g *Gantry) learn(s status) frame.Spot[frame.Machine] {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.at = spot{X: s.at[0]/1e3 - g.writer.zero[0], Y: s.at[1]/1e3 - g.writer.zero[1]}
	return g.at
}

// bounds are the axes' of the rig.
func (e expected) bounds() [2]plan.Bounds { return [2]plan.Bounds{e.axes[0].Bounds, e.axes[1].Bounds} }
