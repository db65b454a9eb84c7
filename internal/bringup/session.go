// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"errors"
	"fmt"
	"time"

	"boardhand/internal/asbuilt"
	"boardhand/internal/carry/limits"
	"boardhand/internal/chess"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/sight/gauge"
)

// Parts are what a bring-up works with.
type Parts struct {
	Rig     *rig.Rig // as its file has it
	Machine string   // its name, which the file of what was measured bears
	Gantry  Gantry
	Camera  Camera
	Maker   Maker
	Save    func(*measured.File) error // keeps what was measured so far
	Now     func() time.Time
}

// Session is one bring-up.
type Session struct {
	Parts
	File    *measured.File
	eye     eye
	carrier *carrier
	piece   chess.Piece // what is carried
	isBare  bool        // the bare board was seen in this session
	isSet   bool        // the piece was set on the board in this session
}

// New prepares a bring-up that goes on from what was measured before.
func New(p Parts, file *measured.File) (*Session, error) {
	if file.Machine != "" && file.Machine != p.Machine {
		return nil, fmt.Errorf("%s beside the rig was measured at another machine (%s; this is %s): move it away, or give this machine a folder of its own", measured.Name, file.Machine, p.Machine)
	}
	l, err := limits.Of(p.Rig)
	if err != nil {
		return nil, fmt.Errorf("%s: the machine does not work as planned, `boardhand assess` says what to change: %w", p.Rig.Name(), err)
	}
	file.Machine = p.Machine
	side := chess.Black
	if !p.Rig.Pieces.Carries("black") {
		side = chess.White
	}
	s := &Session{Parts: p, File: file, piece: chess.MakePiece(side, chess.Pawn), eye: eye{camera: p.Camera, rig: p.Rig}}
	belief := measured.AsDrawn(p.Rig)
	if file.Axes != nil {
		belief = file.Axes.Estimated()
	}
	s.carrier = newCarrier(p.Gantry, p.Rig, l, belief)
	return s, nil
}

// Run does the steps that were not done yet, in order, and keeps each as soon as it is
// done. However it ends, nothing is left moving and the magnet is lowered.
func (s *Session) Run(ctx context.Context) error {
	defer s.rest()
	for _, step := range Steps {
		if step.IsDone(s.File) {
			s.Maker.Tell(fmt.Sprintf("%s: done before.", step.Title))
			continue
		}
		s.Maker.Tell(step.Title + "\n  " + step.Says)
		if err := s.do(ctx, step); err != nil {
			return fmt.Errorf("%s: %w", step.Title, err)
		}
	}
	return nil
}

// Do does one step, whether it was done before or not; where it fails what it measured before
// stays. Afterwards the magnet is lowered, or the next step finds the machine as this one left it.
func (s *Session) Do(ctx context.Context, step Step) error {
	before, belief := *s.File, s.carrier.belief
	if step.IsDone(s.File) {
		s.Unsettle()
		if s.File.Forget(step.Name); s.File.Axes == nil {
			s.carrier.belief = measured.AsDrawn(s.Rig)
		}
	}
	err := s.do(ctx, step)
	if err != nil {
		*s.File, s.carrier.belief = before, belief
		s.leave(step, err)
	} else if step.Name == "lens" {
		s.isBare = false // the bare board is found anew with it
	}
	return err
}

// leave ends a step that was broken off. Where the maker did so the axes are where they were
// counted to be; otherwise nothing that was known of them counts any longer.
func (s *Session) leave(step Step, err error) {
	if !errors.Is(err, ErrRefused) {
		s.rest()
		s.Unsettle()
		return
	}
	if s.carrier.raised {
		s.rest()
		s.carrier.homed = false
	}
	s.isSet, s.isBare = false, s.isBare && step.needs < caughtPiece
}

// Unsettle has the next step that needs them bare the board, home the axes and set the piece anew.
func (s *Session) Unsettle() { s.isBare, s.carrier.homed, s.isSet = false, false, false }

// do does one step, once the maker says so.
func (s *Session) do(ctx context.Context, step Step) error {
	if err := s.prepare(ctx, step); err != nil {
		return err
	}
	if step.Moves != "" {
		if err := s.confirm(ctx, step.Moves); err != nil {
			return err
		}
	}
	if err := step.run(s, ctx); err != nil {
		return err
	}
	return s.Save(s.File)
}

// prepare brings about what a step needs and what this session has not seen yet.
func (s *Session) prepare(ctx context.Context, step Step) error {
	if step.needs >= bareBoard && !s.isBare {
		if err := s.ask(ctx, Request{Asking: Clear, Text: "Take everything off the board, and your hands away from it. Is it bare?"}); err != nil {
			return err
		}
		if err := s.eye.learn(ctx, s.File.Lens); err != nil {
			return err
		}
		s.isBare = true
	}
	if step.needs >= homedAxes && !s.carrier.homed {
		if err := s.ask(ctx, Request{Asking: Confirm, Text: "Now the magnet is lowered and both axes run to their switches. Keep fingers away. May it move?"}); err != nil {
			return err
		}
		if err := s.carrier.home(ctx); err != nil {
			return err
		}
	}
	if step.needs >= caughtPiece && !s.isSet {
		return s.fetch(ctx)
	}
	return nil
}

// ask puts a request to the maker; no is an error.
func (s *Session) ask(ctx context.Context, r Request) error {
	yes, err := s.Maker.Ask(ctx, r)
	if err == nil && !yes {
		err = ErrRefused
	}
	return err
}

// confirm says what will move and waits for the maker's word.
func (s *Session) confirm(ctx context.Context, moves string) error {
	return s.ask(ctx, Request{Asking: Confirm, Text: "Now " + moves + " Keep fingers away. May it move?"})
}

// rest leaves the machine at rest.
func (s *Session) rest() {
	ctx, cancel := context.WithTimeout(context.Background(), restTime)
	defer cancel()
	if s.carrier.raised {
		_ = s.carrier.lift(ctx, false) // the session ends: there is nobody to tell
	}
	_ = s.Gantry.Halt()
}

// today is the date that a measurement bears.
func (s *Session) today() string { return s.Now().UTC().Format(time.RFC3339) }

// done is a step without figures.
func (s *Session) done(note string) *measured.Done {
	return &measured.Done{When: s.today(), Note: note}
}

// isDark says whether the carried piece is the darker one.
func (s *Session) isDark() bool { return s.piece.Color() == chess.Black }

// errNotCaught says that the magnet did not find the piece.
var errNotCaught = errors.New("the piece does not follow the magnet: look whether its base holds a magnet, the right way up, and whether the lift rises to the board; measure where the field's centre lies on the axes (axis.x.origin, axis.y.origin)")

// estimate takes what the sightings tell.
func (s *Session) estimate(seen []asbuilt.Sighting) error {
	f, err := asbuilt.Estimate(seen, s.carrier.belief)
	if err != nil {
		return err
	}
	f.Widen(gauge.LightBias, gauge.EdgeHeightDoubt/s.eye.view.Camera().Z)
	s.carrier.belief = f.Machine
	s.File.Axes = measured.Of(f, s.today())
	s.File.Places = measured.Places(seen, f)
	return nil
}
