// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"fmt"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/unit"
)

// caution has the cautions confirmed, once.
func (s *Session) caution(ctx context.Context) error {
	if err := s.ask(ctx, Request{Asking: Agree, Text: "Have you read this, and will you keep to it?"}); err != nil {
		return err
	}
	s.File.Cautions = s.done("read and confirmed")
	return nil
}

// nameController says who drives the motors.
func (s *Session) nameController(context.Context) error {
	name := s.Machine
	if n, ok := s.Gantry.(interface{ About() string }); ok {
		name += ": " + n.About()
	}
	s.Maker.Tell("  " + name)
	s.File.Controller = s.done(name)
	return nil
}

// measureCamera says where the camera hangs: with the lens as measured, and, to compare, by the
// board alone.
func (s *Session) measureCamera(context.Context) error {
	v, sigma := s.eye.view, s.eye.sigma
	at := v.Camera()
	c := &measured.Camera{When: s.today(), X: unit.Length(at.X), Y: unit.Length(at.Y), Height: unit.Length(at.Z), Tilt: unit.Angle(v.Tilt()),
		HFOV: unit.Angle(v.Lens.HFOV(s.Rig.Camera.Image[0])), K1: v.Lens.K1, K2: v.Lens.K2, Lens: "from the board"}
	s.File.Camera = c
	if !s.File.Lens.IsKnown() {
		s.Maker.Tell(fmt.Sprintf("  The lens is some %.0f mm over the board, %.0f mm to the right of its centre, %.0f mm towards rank 8; tilt %.1f deg. Without the lens measured that is good to some centimetres.",
			at.Z*1e3, at.X*1e3, at.Y*1e3, unit.Angle(v.Tilt()).Degrees()))
		return nil
	}
	c.Lens, c.Sigma = "measured", [3]unit.Length{unit.Length(sigma.X), unit.Length(sigma.Y), unit.Length(sigma.Z)}
	var err error
	if c.Turn, err = v.CameraFromBoard.R.Vector(); err != nil {
		return err
	}
	s.Maker.Tell(fmt.Sprintf("  The lens is %.2f ± %.2f mm over the board, %.2f ± %.2f mm to the right of its centre, %.2f ± %.2f mm towards rank 8; tilt %.2f deg.\n  By the board alone, its lens unknown, it would be %.0f mm over it.",
		at.Z*1e3, sigma.Z*1e3, at.X*1e3, sigma.X*1e3, at.Y*1e3, sigma.Y*1e3, unit.Angle(v.Tilt()).Degrees(), s.eye.flat.Camera().Z*1e3))
	return nil
}

// checkHoming has the maker say that the zeros are where they belong.
func (s *Session) checkHoming(ctx context.Context) error {
	if err := s.ask(ctx, Request{Asking: Watch, Text: "Does the carriage stand at the switches, on the left and towards rank 1 as White sees it?"}); err != nil {
		return err
	}
	s.File.Homing = s.done(fmt.Sprintf("zeros found; the axes count %.2f and %.2f mm there", s.carrier.at.X*1e3, s.carrier.at.Y*1e3))
	return nil
}

// tryTravel goes to the corners of the travel.
func (s *Session) tryTravel(ctx context.Context) error {
	c := s.carrier
	if err := c.lift(ctx, false); err != nil {
		return err
	}
	x, y := c.travel[0], c.travel[1]
	for _, to := range []frame.Spot[frame.Machine]{{X: x}, {X: x, Y: y}, {Y: y}, {}, {X: x / 2, Y: y / 2}} {
		if err := c.to(ctx, to); err != nil {
			return fmt.Errorf("on the way to %.0f, %.0f mm: %w", to.X*1e3, to.Y*1e3, err)
		}
	}
	if err := s.ask(ctx, Request{Asking: Watch, Text: "Did it reach all four corners, and did no cable pull tight, catch or rub?"}); err != nil {
		return err
	}
	s.File.Travel = s.done(fmt.Sprintf("0 to %.1f mm and 0 to %.1f mm without a stall, cables free", x*1e3, y*1e3))
	return nil
}

// fetch has the piece set on the board and brings the magnet under it.
func (s *Session) fetch(ctx context.Context) error {
	on := startSquare(s.Rig, s.isDark())
	centre := s.Rig.Board.Centre(on.File(), on.Rank())
	if err := s.carrier.lift(ctx, false); err != nil {
		return err
	}
	text := fmt.Sprintf("Set a %s pawn of the carried ones on %v, nothing else on the board. Does it stand there?", s.piece.Color(), on)
	if err := s.ask(ctx, Request{Asking: Put, Text: text, Piece: s.piece, On: on}); err != nil {
		return err
	}
	if err := s.ask(ctx, Request{Asking: Confirm, Text: fmt.Sprintf("Now the carriage goes under %v and tries to take the piece along. Keep fingers away. May it move?", on)}); err != nil {
		return err
	}
	for _, d := range []frame.Spot[frame.Board]{{}, {X: catchStep}, {X: -catchStep}, {Y: catchStep}, {Y: -catchStep}, {X: catchStep, Y: catchStep}, {X: -catchStep, Y: -catchStep}, {X: catchStep, Y: -catchStep}, {X: -catchStep, Y: catchStep}} {
		from, err := s.eye.see(ctx, centre, reach)
		if err != nil {
			return err
		}
		if err := s.under(ctx, from.At.Add(d)); err != nil {
			return err
		}
		if isCaught, err := s.isCaught(ctx, from.At); err != nil || isCaught {
			s.isSet = isCaught
			return err
		}
		if err := s.carrier.lift(ctx, false); err != nil {
			return err
		}
	}
	return errNotCaught
}

// under brings the lowered magnet under a place and raises it.
func (s *Session) under(ctx context.Context, at frame.Spot[frame.Board]) error {
	c := s.carrier
	if err := c.lift(ctx, false); err != nil {
		return err
	}
	to := c.target(at, c.side)
	for k, d := range [2]float64{to.X - c.at.X, to.Y - c.at.Y} {
		c.side[k] = math.Copysign(1, d)
	}
	if err := c.to(ctx, c.target(at, c.side)); err != nil {
		return err
	}
	return c.lift(ctx, true)
}

// isCaught says whether the piece comes along when the magnet moves to the right.
func (s *Session) isCaught(ctx context.Context, from frame.Spot[frame.Board]) (bool, error) {
	to := s.carrier.at
	to.X += tryDrag
	if err := s.carrier.to(ctx, to); err != nil {
		return false, err
	}
	for _, way := range []float64{1, -1} { // an axis may run the other way
		now, err := s.eye.see(ctx, from.Add(frame.Spot[frame.Board]{X: way * tryDrag}), reach)
		if err == nil {
			return now.At.Distance(from) > followed*tryDrag, nil
		}
		if ctx.Err() != nil {
			return false, err
		}
	}
	return false, nil
}

// checkDirection sees which way the piece goes when each axis moves.
func (s *Session) checkDirection(ctx context.Context) error {
	for k, name := range [2]string{"x", "y"} {
		before, err := s.eye.see(ctx, s.carrier.magnet(), 2*reach)
		if err != nil {
			return err
		}
		for _, by := range []float64{tryDrag, -tryDrag} {
			to := s.carrier.at
			if k == 0 {
				to.X += by
			} else {
				to.Y += by
			}
			if err := s.carrier.to(ctx, to); err != nil {
				return err
			}
			if by < 0 {
				continue
			}
			d, err := s.moved(ctx, before.At, k)
			if err != nil {
				return err
			}
			if way := [2]float64{d.X, d.Y}; way[k] < followed*tryDrag {
				return fmt.Errorf("the %s axis was told to go 30 mm forwards and the piece went %.0f mm to the right and %.0f mm towards rank 8: turn the motor's direction round or swap the motors of x and y at the controller, then home again", name, d.X*1e3, d.Y*1e3)
			}
		}
	}
	s.File.Direction = s.done("x goes to the right, y towards rank 8")
	return nil
}

// moved is how far the piece went, whichever of four ways it was.
func (s *Session) moved(ctx context.Context, from frame.Spot[frame.Board], k int) (d frame.Spot[frame.Board], err error) {
	ways := []frame.Spot[frame.Board]{{X: tryDrag}, {Y: tryDrag}, {X: -tryDrag}, {Y: -tryDrag}}
	if k == 1 {
		ways[0], ways[1] = ways[1], ways[0]
	}
	for _, w := range ways {
		now, err := s.eye.see(ctx, from.Add(w), reach)
		if err == nil {
			return now.At.Sub(from), nil
		}
		if ctx.Err() != nil {
			return d, err
		}
	}
	return d, errNotCaught
}
