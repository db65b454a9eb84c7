package carry

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
)

// Straighten plans to bring the man with index i to the middle of a square: a
// man that slipped on the way, or one that stands askew.
func (p *Planner) Straighten(ctx context.Context, s Scene, i int, to chess.Square) (Plan, error) {
	if i < 0 || i >= len(s.Men) || to >= chess.NoSquare {
		return Plan{}, fmt.Errorf("there is no man %d in the scene, or %v is no square", i, to)
	}
	d := p.draft(s)
	if k := d.on(to); k >= 0 && k != i {
		return Plan{}, fmt.Errorf("the %v stands on %v: it must go first", d.men[k].Piece, to)
	}
	hand := func(d *draft) { d.byHand(i, to) }
	if !s.Men[i].Magnet {
		hand(d)
	} else if err := d.bring(ctx, i, d.square(to)); err != nil {
		return Plan{}, err
	}
	return p.judged(s, d, func(plan Plan) error { return p.Check(s, plan) }, hand)
}

// byHand has a person set man i on a square, its own or another.
func (d *draft) byHand(i int, to chess.Square) {
	if d.men[i].Square == to {
		d.askStraight(i)
	} else {
		d.askMove(i, d.square(to), "")
	}
}
