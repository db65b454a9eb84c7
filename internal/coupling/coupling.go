// SPDX-License-Identifier: Apache-2.0

// Package coupling reads from a rig what its magnets do to its pieces: both
// magnets, how far they may be off, the gap between them, and each kind of
// piece over the drive magnet. Who judges a rig, who plans carries on it and
// who looks for the cause of a slip all read it here. The twin does not: it is
// a world of its own, whose magnets are drawn from their grades.
package coupling

import (
	"fmt"

	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Coupling is what the magnets of one rig do to its pieces.
type Coupling struct {
	Rig    *rig.Rig
	Pair   drag.Pair   // at the middle of both grades
	Spread drag.Spread // over both grades and what the raised magnet leaves open over the warp
	Pull   drag.Puller // the force law of Pair, or a table of it
	Reach  unit.Length // how far out pieces are looked at; drag's own when zero
}

// Of reads a rig. Pull is the full integral, each place worked out once; set a
// table where many places are asked for. For one goroutine at a time.
func Of(r *rig.Rig) (Coupling, error) {
	c := Coupling{Rig: r}
	lower, wideLower, err := middle(r.Lift.Grade, r.Lift.Diameter, r.Lift.Thickness)
	if err != nil {
		return c, fmt.Errorf("lift.grade: %w", err)
	}
	m := r.Pieces.Magnet
	upper, wideUpper, err := middle(m.Grade, m.Diameter, m.Thickness)
	if err != nil {
		return c, fmt.Errorf("pieces.magnet.grade: %w", err)
	}
	near, far := Gaps(r)
	c.Pair = drag.Pair{Lower: lower, Upper: upper}
	c.Spread = drag.Spread{Weak: (1 - wideLower) * (1 - wideUpper), Strong: (1 + wideLower) * (1 + wideUpper),
		Near: near, Far: far}
	c.Pull = remembered{c.Pair, map[[2]float64]magnet.Pull{}}
	return c, nil
}

// middle is a magnet at the middle of its grade, and the grade's half width as
// a share.
func middle(grade string, d, t unit.Length) (magnet.Cylinder, float64, error) {
	lo, hi, err := magnet.Grade(grade)
	return magnet.Cylinder{Diameter: d, Thickness: t, Br: (lo + hi) / 2}, float64((hi - lo) / (hi + lo)), err
}

// Stand is a piece of a kind over the raised magnet.
func (c Coupling) Stand(k game.Kind) drag.Stand {
	static, kinetic := c.Rig.Board.Friction, c.Rig.Board.Kinetic
	if kinetic == 0 {
		kinetic = drag.KineticShare * static
	}
	return drag.Stand{Pull: c.Pull, Gap: c.Rig.Gap(), Mass: c.Rig.Pieces.Of(k).Mass,
		Static: static, Kinetic: min(kinetic, static), Reach: c.Reach}
}

// Figure is a piece of a kind as tipping sees it.
func (c Coupling) Figure(k game.Kind) drag.Figure {
	m := c.Rig.Pieces.Of(k)
	return drag.Figure{Mass: m.Mass, Base: m.Base, Balance: m.Height * unit.Length(m.Balance), Recess: c.Rig.Pieces.Magnet.Recess}
}

// HomedPlacement is the error of a carriage's own place once its play is taken up: what the
// rig file's budget says of it. With what is left of play and counts it is budget.PlacementOf.
func HomedPlacement(r *rig.Rig) unit.Length { return r.Tolerance.Placement.Or(Placement) }

// Weight of a piece of a kind, newtons.
func (c Coupling) Weight(k game.Kind) float64 { return float64(c.Rig.Pieces.Of(k).Mass) * drag.Gravity }

// Lightest is the kind of the least mass: the first to be dragged along.
func (c Coupling) Lightest() game.Kind {
	return c.extreme(func(a, b *rig.Piece) bool { return a.Mass < b.Mass })
}

// Heaviest is the kind of the largest mass: the first to be left behind.
func (c Coupling) Heaviest() game.Kind {
	return c.extreme(func(a, b *rig.Piece) bool { return a.Mass > b.Mass })
}

// Extremes are the lightest and the heaviest kind: between them every quantity
// of a piece over a magnet lies, since it changes one way with the mass.
func (c Coupling) Extremes() []game.Kind {
	light, heavy := c.Lightest(), c.Heaviest()
	if c.Rig.Pieces.Of(light).Mass == c.Rig.Pieces.Of(heavy).Mass {
		return []game.Kind{heavy}
	}
	return []game.Kind{light, heavy}
}

// extreme is the first kind, from king to pawn, that no other is before.
func (c Coupling) extreme(before func(a, b *rig.Piece) bool) game.Kind {
	all := c.Rig.Pieces.Kinds().All()
	out := all[0]
	for _, k := range all {
		if before(c.Rig.Pieces.Of(k), c.Rig.Pieces.Of(out)) {
			out = k
		}
	}
	return out
}

// Count is how many pieces of a kind a side has: those of chess, or of another game an even
// share.
func Count(r *rig.Rig, k game.Kind) int {
	kinds := r.Pieces.Kinds()
	if kinds == &game.ChessKinds || len(kinds.All()) == len(game.ChessKinds.All()) && kinds.Key(game.King) == game.ChessKinds.Key(game.King) {
		return game.InChess(k)
	}
	n := len(kinds.All())
	return max(1, (r.Pieces.Count+n-1)/n)
}
