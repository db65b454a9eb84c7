// SPDX-License-Identifier: Apache-2.0

package conform

import (
	"context"
	"errors"
	"time"
)

// checks are the suite.
var checks = []check{
	{"home comes first", homeFirst, false},
	{"a move ends where it should", ends, false},
	{"a bent way ends where it should", bends, true},
	{"homing again finds the same place", homesAgain, false},
	{"a halt holds until homing", haltHolds, false},
	{"a halt in motion stops", haltStops, true},
	{"a halt in homing stops", haltInHoming, false},
	{"a context that ends stops", contextStops, false},
	{"a context that has ended moves nothing", contextOver, false},
	{"a hold stops on the way and goes on", holds, true},
	{"a held stroke can be called off", holdCalledOff, false},
	{"a halt ends a hold", holdHalted, false},
	{"a stroke begun while held waits at its start", heldAtStart, false},
	{"the lift goes up and down", lifts, false},
	{"a lift that is held is noticed", jams, false},
	{"no axis leaves its travel", limits, false},
	{"a stroke without a way is no motion", noWay, false},
	{"a lost wire is noticed", lostWire, false},
}

// Nobody knows where the axes are before homing: no motion on a guess.
func homeFirst(s *Subject) {
	s.refuses("before homing", s.at(0.6, 0.6))
	s.home()
	s.move(s.at(0.5, 0.5))
}

func ends(s *Subject) {
	last := s.home()
	for _, p := range []Spot{s.at(0.5, 0.5), s.at(0.5, 0.2), s.at(0.8, 0.2), s.at(0.3, 0.7), s.at(0.3001, 0.7), s.at(0.05, 0.95)} {
		s.move(last, p)
		last = p
	}
}

func bends(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.2, 0.2), s.at(0.4, 0.2), s.at(0.41, 0.21), s.at(0.41, 0.6), s.at(0.6, 0.6), s.at(0.3, 0.3))
	s.still()
}

func homesAgain(s *Subject) {
	first := s.home()
	s.move(first, s.at(0.7, 0.4))
	zero := s.zero
	again := s.home()
	s.near("homed again the axes say", again, first)
	s.near("the zero is", s.zero, zero)
}

// A halt holds whatever is asked, at rest as well, and homing ends it.
func haltHolds(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.5, 0.5))
	if err := s.Gantry.Halt(); err != nil {
		s.t.Errorf("halting: %v", err)
	}
	s.refuses("halted", s.at(0.6, 0.6))
	for _, raised := range []bool{true, false} {
		s.failed("the lift while halted", s.Gantry.Lift(s.ctx, raised))
	}
	if s.Lifted != nil && s.Lifted() > liftError {
		s.t.Errorf("the lift is at %.2f", s.Lifted())
	}
	at = s.home()
	s.move(at, s.at(0.6, 0.6))
}

func haltStops(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	a := s.during(s.ctx, func() {
		if err := s.Gantry.Halt(); err != nil {
			s.t.Errorf("halting: %v", err)
		}
	})
	s.failed("a halted move", a.err)
	s.stoppedMidway()
	s.still()
	s.refuses("halted", s.at(0.6, 0.6))
	at = s.home()
	s.move(at, s.at(0.5, 0.5))
}

// stoppedMidway wants the carriage on the way of during, not at its end.
func (s *Subject) stoppedMidway() {
	s.t.Helper()
	if s.Carriage == nil {
		return
	}
	at := s.Carriage().Sub(s.zero)
	if at.Distance(s.at(0.9, 0.9)) < 0.1*s.Travel.X || at.Distance(s.at(0.1, 0.1)) < 0.05*s.Travel.X {
		s.t.Errorf("stopped at (%.1f, %.1f) mm", at.X*1e3, at.Y*1e3)
	}
}

func haltInHoming(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.9, 0.9))
	ended := make(chan error, 1)
	go func() { _, err := s.Gantry.Home(s.ctx); ended <- err }()
	s.Clock.Sleep(700 * time.Millisecond)
	_ = s.Gantry.Halt()
	select {
	case err := <-ended:
		s.failed("a halted homing", err)
	case <-s.Clock.After(time.Minute):
		s.t.Fatal("the homing never ended")
	}
	s.still()
	s.refuses("halted in homing", s.at(0.6, 0.6))
	s.home()
	s.move(s.at(0.5, 0.5))
}

// A motion that its context ends stops on the way; what comes after it either
// arrives truly or is refused until homing.
func contextStops(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	ctx, cancel := context.WithCancel(s.ctx)
	a := s.during(ctx, cancel)
	if !errors.Is(a.err, context.Canceled) {
		s.t.Errorf("got %v", a.err)
	}
	s.stoppedMidway()
	s.still()
	if at, err := s.Gantry.Move(s.ctx, s.stroke(a.at, s.at(0.5, 0.5))); err == nil {
		s.near("the axes say", at, s.at(0.5, 0.5))
		s.truly(at)
		return
	}
	at = s.home()
	s.move(at, s.at(0.5, 0.5))
}

func contextOver(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.5, 0.5))
	ctx, cancel := context.WithCancel(s.ctx)
	cancel()
	if _, err := s.Gantry.Move(ctx, s.stroke(s.at(0.5, 0.5), s.at(0.6, 0.6))); err == nil {
		s.t.Error("a move was done")
	}
	if err := s.Gantry.Lift(ctx, true); err == nil {
		s.t.Error("the lift went up")
	}
	s.still()
	s.truly(s.at(0.5, 0.5))
}

// Lift returns when the magnet is there; the carriage stays where it is.
func lifts(s *Subject) {
	at := s.home()
	at = s.move(at, s.at(0.5, 0.5))
	for _, raised := range []bool{true, false, false, true, true, false} {
		if err := s.Gantry.Lift(s.ctx, raised); err != nil {
			s.t.Fatalf("raised %v: %v", raised, err)
		}
		want := map[bool]float64{true: 1, false: 0}[raised]
		if s.Lifted != nil && s.Lifted() < want-liftError || s.Lifted != nil && s.Lifted() > want+liftError {
			s.t.Errorf("raised %v: the lift is at %.3f", raised, s.Lifted())
		}
		s.truly(at)
	}
	if err := s.Gantry.Lift(s.ctx, true); err != nil {
		s.t.Fatal(err)
	}
	s.home()
	if s.Lifted != nil && s.Lifted() > liftError {
		s.t.Errorf("homed with the lift at %.3f", s.Lifted())
	}
}

func jams(s *Subject) {
	if s.Jam == nil {
		s.t.Skip("nobody could notice")
	}
	at := s.home()
	s.move(at, s.at(0.5, 0.5))
	s.Jam()
	s.failed("a lift that is held", s.Gantry.Lift(s.ctx, true))
}

// A way that leaves the travel is refused as a whole, before anything moves; the
// machine can be used afterwards.
func limits(s *Subject) {
	at := s.home()
	s.move(at, s.at(0.5, 0.5))
	for _, p := range []Spot{s.at(1.2, 0.5), s.at(0.5, 1.2), {X: -0.05, Y: 0.05}, {X: 0.05, Y: -0.05}} {
		s.refuses("beyond the travel", p)
	}
	if _, err := s.Gantry.Move(s.ctx, s.stroke(s.at(0.5, 0.5), s.at(1.2, 0.5), s.at(0.6, 0.5))); err == nil {
		s.t.Error("a way that leaves the travel in its middle was done")
	}
	if _, err := s.Gantry.Move(s.ctx, s.stroke(s.at(0.5, 0.5), s.at(0.6, 0.6))); err != nil {
		s.home()
	}
	s.move(s.at(0.6, 0.6), s.at(0.4, 0.4))
}

func noWay(s *Subject) {
	at := s.home()
	at = s.move(at, s.at(0.5, 0.5))
	s.move(at, s.at(0.5, 0.5))
	_, _ = s.Gantry.Move(s.ctx, s.stroke())
	s.truly(at)
	s.move(at, s.at(0.45, 0.5))
}

// A wire that breaks in motion ends the move with an error and leaves every later
// motion refused until homing; where it can be mended, homing mends it.
func lostWire(s *Subject) {
	if s.Cut == nil {
		s.t.Skip("there is no wire")
	}
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	s.failed("a move without a wire", s.during(s.ctx, s.Cut).err)
	s.Clock.Sleep(30 * time.Second) // what the machine still knows may be run out
	s.refuses("without a wire", s.at(0.6, 0.6))
	if s.Mend == nil {
		return
	}
	s.Mend()
	at = s.home()
	s.move(at, s.at(0.5, 0.5))
}
