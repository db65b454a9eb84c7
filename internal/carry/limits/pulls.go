// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

const (
	// scatter is how much a piece's friction, and the force model, may be off at
	// two standard deviations: friction of one wooden surface scatters by about
	// a tenth (chestnut 0.36–0.55 about 0.46: Villar-García et al., Int.
	// Agrophysics 34 (2020) 65), the model is good to 15 % (Vokoun and Beleggia,
	// J. Magn. Magn. Mater. 350 (2014) 174).
	scatter = 0.2
	// gripShare is how much of the best acceleration that the magnet could give
	// a piece is used along the path, and across it on an arc: half, so 0.71
	// together. Common practice, no source.
	gripShare = 0.5
	// placement is the error of the carriage's own place with its backlash
	// taken up, metres: what a rule and a homing switch leave. Common practice,
	// no source.
	placement = 0.5e-3
)

// Of computes the numbers of one rig from its magnets, friction and drives.
func Of(r *rig.Rig) (plan.Limits, error) {
	l := plan.Limits{Inside: Reach(r), Sheet: sheet(r), Placement: placement,
		Carry: driveOf(r), Travel: driveOf(r),
		Backlash: [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}}
	if v := float64(r.Lift.Speed); v > 0 {
		l.LiftTime = float64(r.Lift.Drop) / v
	}
	c, err := couplingOf(r)
	if err != nil {
		return plan.Limits{}, err
	}
	for _, step := range []func(*plan.Limits) error{c.accelerate, c.calm, c.pull, c.trail, c.neighbours} {
		if err := step(&l); err != nil {
			return plan.Limits{}, err
		}
	}
	return l, l.Check()
}

// remembered is a force law that works each place out once: all pieces and all
// remanences share their gaps and offsets.
type remembered struct {
	law  drag.Puller
	seen map[[2]float64]magnet.Pull
}

// At is the law's pull.
func (r remembered) At(gap, offset float64) (magnet.Pull, error) {
	key := [2]float64{gap, offset}
	if p, ok := r.seen[key]; ok {
		return p, nil
	}
	p, err := r.law.At(gap, offset)
	if err == nil {
		r.seen[key] = p
	}
	return p, err
}

// coupling is what the magnets of one rig do to its pieces.
type coupling struct {
	rig    *rig.Rig
	pair   drag.Pair
	table  drag.Puller
	spread drag.Spread
}

// kinds are the pieces from king to pawn.
var kinds = []chess.Kind{chess.King, chess.Queen, chess.Bishop, chess.Knight, chess.Rook, chess.Pawn}

// middle is a magnet at the middle of its grade, and the grade's half width as
// a share.
func middle(grade string, d, t unit.Length) (magnet.Cylinder, float64, error) {
	lo, hi, err := magnet.Grade(grade)
	return magnet.Cylinder{Diameter: d, Thickness: t, Br: (lo + hi) / 2}, float64((hi - lo) / (hi + lo)), err
}

func couplingOf(r *rig.Rig) (coupling, error) {
	c := coupling{rig: r}
	var wide [2]float64
	var err error
	if c.pair.Lower, wide[0], err = middle(r.Lift.Grade, r.Lift.Diameter, r.Lift.Thickness); err != nil {
		return c, fmt.Errorf("lift.grade: %w", err)
	}
	m := r.Pieces.Magnet
	if c.pair.Upper, wide[1], err = middle(m.Grade, m.Diameter, m.Thickness); err != nil {
		return c, fmt.Errorf("pieces.magnet.grade: %w", err)
	}
	c.table = remembered{c.pair, map[[2]float64]magnet.Pull{}}
	half := r.Board.Warp / 2
	c.spread = drag.Spread{Weak: (1 - wide[0]) * (1 - wide[1]), Strong: (1 + wide[0]) * (1 + wide[1]),
		Near: max(r.Gap()-half, unit.MM(0.1)), Far: r.Gap() + half}
	return c, nil
}

func (c coupling) shape(k chess.Kind) rig.Piece {
	p := c.rig.Pieces
	return map[chess.Kind]rig.Piece{chess.King: p.King, chess.Queen: p.Queen, chess.Bishop: p.Bishop,
		chess.Knight: p.Knight, chess.Rook: p.Rook, chess.Pawn: p.Pawn}[k]
}

func (c coupling) stand(k chess.Kind) drag.Stand {
	return drag.Stand{Pull: c.table, Gap: c.rig.Gap(), Mass: c.shape(k).Mass,
		Static: c.rig.Board.Friction, Kinetic: c.rig.Board.Kinetic, Reach: unit.MM(60)}
}

// accelerate lowers the acceleration to what the worst hold gives the pieces and
// what their feet bear without tipping.
func (c coupling) accelerate(l *plan.Limits) error {
	for _, k := range kinds {
		h, err := c.stand(k).WorstHold(c.spread, c.rig.Board.Friction)
		if err != nil {
			return fmt.Errorf("%v: %w", k, err)
		}
		if h.Net <= 0 {
			return fmt.Errorf("%v: %w", k, drag.ErrSlips)
		}
		l.Carry.Most.Accel = math.Min(l.Carry.Most.Accel, gripShare*float64(h.Most))
		if err := c.upright(k, h.Offset, l); err != nil {
			return err
		}
	}
	return nil
}

// upright halves the acceleration until the foot is wide enough for it.
func (c coupling) upright(k chess.Kind, most unit.Length, l *plan.Limits) error {
	m := c.shape(k)
	f := drag.Figure{Mass: m.Mass, Foot: m.Base, Balance: m.Height * unit.Length(m.Balance), Recess: c.rig.Pieces.Magnet.Recess}
	lag, err := c.stand(k).Lag(c.rig.Board.Friction, unit.Acceleration(l.Carry.Most.Accel))
	if err != nil {
		lag = most
	}
	for range 8 {
		t, err := f.Tip(c.pair, c.rig.Gap(), lag, unit.Acceleration(l.Carry.Most.Accel))
		if err != nil {
			return err
		}
		if t.Least <= m.Base {
			return nil
		}
		l.Carry.Most.Accel /= 2
	}
	return fmt.Errorf("the magnet tips the %v over however slowly it moves: give it a wider foot than %v or a weaker magnet", k, m.Base)
}

// trail sets the lag, its spread and how a carry ends from all pieces and ends
// of the tolerances.
func (c coupling) trail(l *plan.Limits) error {
	least, most := math.Inf(1), 0.0
	l.Back = false
	for _, k := range kinds {
		g, err := c.stand(k).LagRange(c.spread, c.rig.Board.Kinetic, 0)
		if err != nil {
			return fmt.Errorf("%v: %w", k, err)
		}
		least, most = math.Min(least, float64(g.Least)), math.Max(most, float64(g.Most))
		stays, err := c.stand(k).StaysLowered(c.spread, c.rig.Lift.Drop)
		if err != nil {
			return fmt.Errorf("%v: %w", k, err)
		}
		l.Back = l.Back || !stays
	}
	l.Lag, l.LagSpread = (least+most)/2, (most-least)/2
	l.Lead = l.Lag
	return nil
}

// neighbours sets the safe distances from pieces that must stay: of the lightest
// piece, at the worst end of gap and remanence.
func (c coupling) neighbours(l *plan.Limits) error {
	light := kinds[0]
	for _, k := range kinds {
		if c.shape(k).Mass < c.shape(light).Mass {
			light = k
		}
	}
	s := c.stand(light)
	var err error
	if l.SafePass, err = c.beside(s, s.Static); err != nil {
		return err
	}
	wide, err := c.beside(s, s.Static*(1-scatter))
	if err != nil {
		return err
	}
	l.SafeSpread = wide - l.SafePass
	low := c.spread
	low.Near, low.Far = low.Near+c.rig.Lift.Drop, low.Far+c.rig.Lift.Drop
	w, err := s.WorstNeighbour(low, s.Static*(1-scatter))
	if err != nil {
		return err
	}
	l.LoweredPass = float64(w.Safe)
	apart, err := drag.Apart(c.pair.Upper, c.pair.Upper, c.shape(light).Mass, s.Static)
	l.Apart = float64(apart)
	return err
}

// besideStep is the step of the scan for the safe distance, metres; the result
// is rounded up to it.
const besideStep = 0.25e-3

// beside is the least distance at which piece s stands still while the raised
// magnet with a carried foot over it passes: the drive magnet pulls or pushes
// and takes weight off, and the two foot magnets repel. Where the drive pulls
// and the foot pushes, the two are not set off against one another: the piece
// trails, so the two do not stand in one place. Range: 0–60 mm. Source:
// Coulomb friction and direct integration over the charged discs.
func (c coupling) beside(s drag.Stand, mu float64) (float64, error) {
	drags := func(x float64) (bool, error) {
		push, err := magnet.SideBySide(c.pair.Upper, c.pair.Upper, unit.Length(x))
		if err != nil {
			return false, err
		}
		for _, gap := range [2]unit.Length{c.spread.Near, c.spread.Far} {
			p, err := s.Pull.At(float64(gap), x)
			if err != nil {
				return false, err
			}
			p.Axial, p.Lateral = p.Axial*c.spread.Strong, p.Lateral*c.spread.Strong
			apart := push*c.spread.Strong + max(0, -p.Lateral)
			if max(apart, p.Lateral) > mu*s.Normal(p) {
				return true, nil
			}
		}
		return false, nil
	}
	least := float64(c.pair.Upper.Diameter)
	for x := float64(s.Reach); x > least; x -= besideStep {
		if bad, err := drags(x); err != nil || bad {
			return x + besideStep, err
		}
	}
	return least, nil
}
