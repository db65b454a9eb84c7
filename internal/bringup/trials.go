// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/unit"
)

// measureLead carries the piece as a plan would, runs on by the planned lead, lowers the
// magnet and sees where the piece stands.
func (s *Session) measureLead(ctx context.Context) error {
	c, l := s.carrier, s.carrier.limits
	on := startSquare(s.Rig, s.isDark())
	middle := s.Rig.Board.Centre(on.File(), on.Rank())
	ends := []float64{l.Lead}
	if l.Back {
		ends = append(ends, 0)
	}
	sum, farthest := 0.0, 0.0
	ways := []frame.Spot[frame.Board]{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}
	for k, d := range ways {
		if err := s.drag(ctx, stop{middle.Sub(d.Scale(returnFrom)), k % 2}); err != nil {
			return err
		}
		for _, far := range ends {
			if err := s.drag(ctx, stop{middle.Add(d.Scale(far)), k % 2}); err != nil {
				return err
			}
		}
		if err := c.lift(ctx, false); err != nil {
			return err
		}
		m, err := s.eye.see(ctx, middle, reach)
		if err != nil {
			return err
		}
		off := m.At.Sub(middle)
		sum, farthest = sum+off.Dot(d), max(farthest, off.Norm())
		if err := s.under(ctx, m.At); err != nil {
			return err
		}
	}
	s.File.Lead = &measured.Lead{When: s.today(), Along: unit.Length(sum / float64(len(ways))), Farthest: unit.Length(farthest), Carries: len(ways)}
	s.Maker.Tell(fmt.Sprintf("  Led by %.2f mm, it ends %+.2f mm beyond its place on average, %.2f mm off at most.", l.Lead*1e3, s.File.Lead.Along.MM(), farthest*1e3))
	return nil
}

// measureSpeed carries the piece to and fro, faster each time.
func (s *Session) measureSpeed(ctx context.Context) error {
	c := s.carrier
	on := startSquare(s.Rig, s.isDark())
	middle := s.Rig.Board.Centre(on.File(), on.Rank())
	b := c.limits.Carry.Most
	most := float64(max(s.Rig.Axis.X.Speed, s.Rig.Axis.Y.Speed))
	got := &measured.Speed{When: s.today()}
	ends := [2]frame.Spot[frame.Board]{middle.Add(frame.Spot[frame.Board]{X: -returnFrom}), middle.Add(frame.Spot[frame.Board]{X: returnFrom})}
	if err := s.drag(ctx, stop{ends[0], 0}); err != nil {
		return err
	}
	for n, share := 0, 0.25; ; n++ {
		b.Speed = min(share, 1) * most
		to := c.target(ends[(n+1)%2], c.side)
		to.Y = c.at.Y
		if err := c.stroke(ctx, to, b); err != nil {
			return err
		}
		m, err := s.eye.see(ctx, c.magnet(), 2*reach)
		if err != nil || m.At.Distance(c.magnet()) > lost {
			got.Lost = unit.Speed(b.Speed)
			s.isSet = false
			break
		}
		if got.Kept = unit.Speed(b.Speed); share >= 1 {
			break
		}
		share += 0.25
	}
	s.File.Speed = got
	if got.Lost > 0 {
		s.Maker.Tell(fmt.Sprintf("  It came along at %.0f mm/s and was lost at %.0f mm/s.", float64(got.Kept)*1e3, float64(got.Lost)*1e3))
	} else {
		s.Maker.Tell(fmt.Sprintf("  It came along up to %.0f mm/s, the most that the axes do.", float64(got.Kept)*1e3))
	}
	return nil
}

// measureGap has a second piece set on the board and carries the first one past it, nearer
// each time, until it is dragged along or the bases would touch.
func (s *Session) measureGap(ctx context.Context) error {
	c := s.carrier
	on := startSquare(s.Rig, s.isDark())
	middle := s.Rig.Board.Centre(on.File(), on.Rank())
	far := c.limits.SafePass + c.limits.SafeSpread + 2*gapSpare
	beside := func(x, gap float64) frame.Spot[frame.Board] {
		return middle.Add(frame.Spot[frame.Board]{X: x, Y: -gap})
	}
	if err := s.confirm(ctx, "the carriage carries the piece out of the way, towards White."); err != nil {
		return err
	}
	for _, to := range []stop{{beside(0, 2*returnFrom), 1}, {beside(-gapRun, 2*returnFrom), 0}} {
		if err := s.drag(ctx, to); err != nil {
			return err
		}
	}
	text := fmt.Sprintf("Set a second %s pawn of the carried ones on %v. Does it stand there?", s.piece.Color(), on)
	if err := s.ask(ctx, Request{Asking: Put, Text: text, Piece: s.piece, On: on}); err != nil {
		return err
	}
	if err := s.confirm(ctx, fmt.Sprintf("the carriage carries the first piece past the one on %v, nearer each time.", on)); err != nil {
		return err
	}
	stands, err := s.eye.see(ctx, middle, reach)
	if err != nil {
		return err
	}
	middle = stands.At
	got := &measured.Gap{When: s.today()}
	least := float64(s.Rig.Pieces.Of(chess.Pawn).Base) + gapSpare/2
	for gap, way := far, 1.0; gap >= least; gap, way = gap-gapStep, -way {
		for _, to := range []stop{{beside(-way*gapRun, gap), 1}, {beside(way*gapRun, gap), 0}} {
			if err := s.drag(ctx, to); err != nil {
				return err
			}
		}
		now, err := s.eye.see(ctx, middle, reach)
		if err != nil || now.At.Distance(middle) > stirred {
			got.Dragged = unit.Length(gap)
			break
		}
		got.Safe = unit.Length(gap)
	}
	s.isSet, s.isBare = false, false
	s.File.Gap = got
	s.tellGap()
	return nil
}

// tellGap says what was found.
func (s *Session) tellGap() {
	g, planned := s.File.Gap, s.carrier.limits.SafePass*1e3
	text := fmt.Sprintf("stayed at %.1f mm and was dragged along at %.1f mm", g.Safe.MM(), g.Dragged.MM())
	switch {
	case g.Dragged == 0:
		text = fmt.Sprintf("stayed down to %.1f mm, where the bases nearly touch", g.Safe.MM())
	case g.Safe == 0:
		text = fmt.Sprintf("was dragged along at %.1f mm already", g.Dragged.MM())
	}
	s.Maker.Tell(fmt.Sprintf("  The standing piece %s (planned for the worst: %.1f mm).", text, planned))
}
