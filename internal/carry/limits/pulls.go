// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/carry/plan"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Of computes the numbers of one rig from its magnets, friction and drives.
func Of(r *rig.Rig) (plan.Limits, error) {
	l := plan.Limits{Inside: Inside(r), Sheet: sheet(r), Placement: float64(coupling.HomedPlacement(r)),
		Carry: driveOf(r), Travel: driveOf(r),
		Backlash: [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}}
	if v := float64(r.Lift.Speed); v > 0 {
		l.LiftTime = float64(r.Lift.Drop) / v
	}
	read, err := coupling.Of(r)
	if err != nil {
		return plan.Limits{}, err
	}
	read.Reach = unit.Length(lookOut)
	c := maker{read}
	for _, step := range []func(*plan.Limits) error{c.accelerate, c.steady, c.pull, c.trail, c.neighbours} {
		if err := step(&l); err != nil {
			return plan.Limits{}, err
		}
	}
	return l, l.Check()
}

// Inside is where plans may bring the magnet.
func Inside(r *rig.Rig) frame.Rect[frame.Board] { return axes.Reach(r) }

// maker sets the limits of one rig from what its magnets do to its pieces.
type maker struct{ coupling.Coupling }

// accelerate lowers the acceleration to what the worst hold gives the pieces and
// what their bases bear without tipping.
func (c maker) accelerate(l *plan.Limits) error {
	for _, k := range c.Rig.Pieces.Kinds().All() {
		h, err := c.Stand(k).WorstHold(c.Spread, c.Rig.Board.Friction)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), err)
		}
		if h.Net <= 0 {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), drag.ErrSlips)
		}
		l.Carry.Most.Accel = math.Min(l.Carry.Most.Accel, gripShare*float64(h.Most))
		if err := c.upright(k, h.Offset, l); err != nil {
			return err
		}
	}
	return nil
}

// upright halves the acceleration until the base is wide enough for it.
func (c maker) upright(k game.Kind, most unit.Length, l *plan.Limits) error {
	m, f := c.Rig.Pieces.Of(k), c.Figure(k)
	lag, err := c.Stand(k).Lag(c.Rig.Board.Friction, unit.Acceleration(l.Carry.Most.Accel))
	if err != nil {
		lag = most
	}
	for range 8 {
		t, err := f.Tip(c.Pair, c.Rig.Gap(), lag, unit.Acceleration(l.Carry.Most.Accel))
		if err != nil {
			return err
		}
		if t.Least <= m.Base {
			return nil
		}
		l.Carry.Most.Accel /= 2
	}
	return fmt.Errorf("the magnet tips the %s over however slowly it moves: give it a wider base than %v or a weaker magnet", c.Rig.Pieces.Kinds().Name(k), m.Base)
}

// trail sets the lag, its spread and how a carry ends from all pieces and ends
// of the tolerances.
func (c maker) trail(l *plan.Limits) error {
	least, most := math.Inf(1), 0.0
	l.Back = false
	for _, k := range c.Rig.Pieces.Kinds().All() {
		g, err := c.Stand(k).LagRange(c.Spread, c.Rig.Board.Kinetic, 0)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), err)
		}
		least, most = math.Min(least, float64(g.Least)), math.Max(most, float64(g.Most))
		stays, err := c.Stand(k).StaysLowered(c.Spread, c.Rig.Lift.Drop)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), err)
		}
		l.Back = l.Back || !stays
	}
	l.Lag, l.LagSpread = (least+most)/2, (most-least)/2
	l.Lead = l.Lag
	return nil
}

// neighbours sets the safe distances from pieces that must stay: of the lightest
// piece, at the worst end of gap and remanence.
func (c maker) neighbours(l *plan.Limits) error {
	light := c.Lightest()
	s := c.Stand(light)
	var err error
	if l.SafePass, err = c.Beside(light, 0); err != nil {
		return err
	}
	wide, err := c.Beside(light, coupling.FrictionScatter)
	if err != nil {
		return err
	}
	l.SafeSpread = wide - l.SafePass
	low := c.Spread
	low.Near, low.Far = coupling.Bowed(c.Rig, c.Rig.Lift.Drop)
	w, err := s.WorstNeighbour(low, s.Static*(1-coupling.FrictionScatter))
	if err != nil {
		return err
	}
	l.LoweredPass = float64(w.Safe)
	apart, err := drag.Apart(c.Pair.Upper, c.Pair.Upper, c.Rig.Pieces.Of(light).Mass, s.Static)
	l.Apart = float64(apart)
	return err
}
