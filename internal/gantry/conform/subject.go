// SPDX-License-Identifier: Apache-2.0

// Package conform is what any gantry must do, whoever drives it: a suite of checks
// that the twin's gantry and every driver are put through. Only tests import it.
package conform

import (
	"context"
	"errors"
	"math"
	"os"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/motion"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/lookout"
	"boardhand/internal/unit"
)

// Spot is a place in the machine frame, m.
type Spot = frame.Spot[frame.Machine]

// Subject is a gantry under test with what stands behind it.
type Subject struct {
	Gantry   carriage.Gantry
	Holder   lookout.Holder      // the same gantry; nil: it cannot be held
	MostFor  time.Duration       // in which it comes to rest from Slow when it is held
	Clock    *clock.Clock        // of the machine
	Travel   Spot                // every place from zero to here can be reached
	Slow     unit.Speed          // that it keeps up with for sure
	Within   unit.Length         // how near it must get to where it is sent
	Play     unit.Length         // of each axis, which its user takes up
	Carriage func() Spot         // where the carriage truly is, from where the first homing leaves it; nil: unknown
	Lifted   func() (up float64) // where the lift truly is, 0 down, 1 up; nil: unknown
	Jam      func()              // holds the lift where it is; nil: cannot be done, or nobody could notice
	Cut      func()              // breaks the wire; nil: there is none
	Mend     func()              // puts it back; nil: cannot be done
	Finish   func()              // ends all that runs; nil: nothing does
	zero     Spot                // what Carriage says where the axes say zero
	t        *testing.T
	ctx      context.Context
}

// Run puts a gantry through the suite, each check on a subject of its own, in bubble
// time: nothing waits, and the same happens in the same order each time.
func Run(t *testing.T, open func(t *testing.T) *Subject) {
	for _, c := range checks {
		t.Run(c.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) { c.on(t, open(t)) })
		})
	}
}

// RunOutside does the same in real time, for subjects behind files of the system;
// their clock may be quick. Since that takes its time, a few checks stand for all
// unless the deep tests are asked for.
func RunOutside(t *testing.T, open func(t *testing.T) *Subject) {
	for _, c := range checks {
		if !c.isFirst && os.Getenv("BOARDHAND_LONG") == "" {
			continue
		}
		t.Run(c.name, func(t *testing.T) { c.on(t, open(t)) })
	}
}

// check is one thing that a gantry must do.
type check struct {
	name    string
	do      func(s *Subject)
	isFirst bool // among the few
}

func (c check) on(t *testing.T, s *Subject) {
	if s.Finish != nil {
		defer s.Finish()
	}
	s.t, s.ctx = t, t.Context()
	c.do(s)
}

// home homes and takes where the carriage truly is then for what the axes say.
func (s *Subject) home() Spot {
	s.t.Helper()
	at, err := s.Gantry.Home(s.ctx)
	if err != nil {
		s.t.Fatalf("homing: %v", err)
	}
	if s.Carriage != nil {
		s.zero = s.Carriage().Sub(at)
	}
	return at
}

// stroke goes slowly from a place to others.
func (s *Subject) stroke(path ...Spot) motion.Stroke {
	return motion.Stroke{Path: path, Speed: s.Slow, Accel: unit.Acceleration(4 * s.Slow), Jerk: unit.Jerk(40 * s.Slow), Blend: motion.Blend}
}

// move does a stroke that must succeed and end where it should.
func (s *Subject) move(path ...Spot) Spot {
	s.t.Helper()
	at, err := s.Gantry.Move(s.ctx, s.stroke(path...))
	if err != nil {
		s.t.Fatalf("moving to %v: %v", path[len(path)-1], err)
	}
	s.near("the axes say", at, path[len(path)-1])
	s.truly(at)
	return at
}

// near compares two places.
func (s *Subject) near(what string, got, want Spot) {
	s.t.Helper()
	s.within(what, got, want, float64(s.Within))
}

// within compares two places that may be so far apart, m.
func (s *Subject) within(what string, got, want Spot, most float64) {
	s.t.Helper()
	if d := got.Distance(want); !(d <= most) {
		s.t.Errorf("%s (%.2f, %.2f) mm, want (%.2f, %.2f) mm", what, got.X*1e3, got.Y*1e3, want.X*1e3, want.Y*1e3)
	}
}

// truly compares where the carriage is with what the axes say.
func (s *Subject) truly(at Spot) {
	s.t.Helper()
	if s.Carriage != nil {
		s.within("the carriage is truly at", s.Carriage().Sub(s.zero), at, float64(s.Within)+math.Sqrt2*float64(s.Play))
	}
}

// at is a place by shares of the travel.
func (s *Subject) at(x, y float64) Spot { return Spot{X: x * s.Travel.X, Y: y * s.Travel.Y} }

// still wants nothing to move for a while.
func (s *Subject) still() {
	s.t.Helper()
	if s.Carriage == nil {
		return
	}
	before := s.Carriage()
	s.Clock.Sleep(time.Second)
	if d := before.Distance(s.Carriage()); d > 1e-6 {
		s.t.Errorf("went on for %.3f mm", d*1e3)
	}
}

// refuses wants a motion refused and nothing to move.
func (s *Subject) refuses(what string, to Spot) {
	s.t.Helper()
	var before Spot
	if s.Carriage != nil {
		before = s.Carriage()
	}
	if _, err := s.Gantry.Move(s.ctx, s.stroke(s.at(0.5, 0.5), to)); err == nil {
		s.t.Errorf("%s: a move was done", what)
	}
	if s.Carriage != nil {
		s.Clock.Sleep(time.Second)
		if d := before.Distance(s.Carriage()); d > 1e-6 {
			s.t.Errorf("%s: a refused move moved %.3f mm", what, d*1e3)
		}
	}
}

// answered is a motion's end.
type answered struct {
	at  Spot
	err error
}

// during begins a long move, does something in the middle of it and returns how the
// move ended. It must end by itself within half a minute.
func (s *Subject) during(ctx context.Context, what func()) answered {
	s.t.Helper()
	ended := make(chan answered, 1)
	far := s.at(0.9, 0.9)
	go func() {
		at, err := s.Gantry.Move(ctx, s.stroke(s.at(0.1, 0.1), far))
		ended <- answered{at, err}
	}()
	s.Clock.Sleep(time.Duration(0.4 * s.Travel.X / float64(s.Slow) * float64(time.Second)))
	what()
	select {
	case a := <-ended:
		return a
	case <-s.Clock.After(30 * time.Second):
		s.t.Fatal("the move never ended")
	}
	return answered{}
}

// failed wants an error, and one that is not of a context unless it should be.
func (s *Subject) failed(what string, err error) {
	s.t.Helper()
	if err == nil {
		s.t.Errorf("%s: no error", what)
	} else if err.Error() == "" || errors.Is(err, context.DeadlineExceeded) {
		s.t.Errorf("%s: %v says nothing", what, err)
	}
}
