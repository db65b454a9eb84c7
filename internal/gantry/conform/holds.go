// SPDX-License-Identifier: Apache-2.0

package conform

import (
	"context"
	"time"
)

// held holds the gantry in the middle of a move and lets something happen once it
// stands, which nothing but that ends.
func (s *Subject) held(ctx context.Context, what func()) answered {
	s.t.Helper()
	return s.during(ctx, func() {
		if err := s.Holder.Hold(); err != nil {
			s.t.Errorf("holding: %v", err)
		}
		s.Clock.Sleep(s.comesToRest())
		s.stoppedMidway()
		s.still()
		if s.Carriage != nil {
			s.Clock.Sleep(heldFor) // longer than any answer may take
			s.within("while held it is said to be at", s.Holder.At(), s.Carriage().Sub(s.zero), float64(s.Within)+1.5*float64(s.Play))
		}
		what()
	})
}

// comesToRest is how long a hold may take.
func (s *Subject) comesToRest() time.Duration {
	if s.MostFor > 0 {
		return s.MostFor
	}
	return time.Second
}

// A hold stops in the middle of a stroke; the place stays known, nothing is homed, and
// the same stroke ends where it should.
func holds(s *Subject) {
	s.canHold()
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	a := s.held(s.ctx, func() {
		if err := s.Holder.Resume(); err != nil {
			s.t.Errorf("going on: %v", err)
		}
	})
	if a.err != nil {
		s.t.Fatalf("a held move ended with %v", a.err)
	}
	s.near("the axes say", a.at, s.at(0.9, 0.9))
	s.truly(a.at)
	s.move(a.at, s.at(0.5, 0.5))
}

// canHold skips a gantry that cannot be held.
func (s *Subject) canHold() {
	s.t.Helper()
	if s.Holder == nil {
		s.t.Skip("it cannot be held")
	}
}

func holdCalledOff(s *Subject) {
	s.canHold()
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	ctx, cancel := context.WithCancel(s.ctx)
	a := s.held(ctx, cancel)
	if a.err == nil {
		s.t.Error("a move that was called off did not say so")
	}
	s.still()
	_ = s.Holder.Resume()
	s.still()
	at = s.home()
	s.move(at, s.at(0.5, 0.5))
}

func holdHalted(s *Subject) {
	s.canHold()
	at := s.home()
	s.move(at, s.at(0.1, 0.1))
	a := s.held(s.ctx, func() {
		if err := s.Gantry.Halt(); err != nil {
			s.t.Errorf("halting: %v", err)
		}
	})
	s.failed("a halted move", a.err)
	_ = s.Holder.Resume()
	s.still()
	s.refuses("halted", s.at(0.6, 0.6))
	at = s.home()
	s.move(at, s.at(0.5, 0.5))
}

func heldAtStart(s *Subject) {
	s.canHold()
	at := s.home()
	at = s.move(at, s.at(0.3, 0.3))
	if err := s.Holder.Hold(); err != nil {
		s.t.Errorf("holding at rest: %v", err)
	}
	ended := make(chan answered, 1)
	go func() {
		to, err := s.Gantry.Move(s.ctx, s.stroke(at, s.at(0.5, 0.5)))
		ended <- answered{to, err}
	}()
	s.Clock.Sleep(time.Second)
	s.still()
	if err := s.Holder.Resume(); err != nil {
		s.t.Errorf("going on: %v", err)
	}
	select {
	case a := <-ended:
		if a.err != nil {
			s.t.Fatalf("it ended with %v", a.err)
		}
		s.near("the axes say", a.at, s.at(0.5, 0.5))
		s.truly(a.at)
	case <-s.Clock.After(30 * time.Second):
		s.t.Fatal("it never went on")
	}
}
