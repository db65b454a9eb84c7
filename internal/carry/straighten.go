// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// Straighten plans to bring the piece with index i to the middle of a square: a
// piece that slipped on the way, or one that stands askew.
func (p *Planner) Straighten(ctx context.Context, s plan.Scene, i int, to game.Square) (plan.Plan, error) {
	if i < 0 || i >= len(s.Pieces) || to >= game.NoSquare {
		return plan.Plan{}, fmt.Errorf("there is no piece %d in the scene, or %v is no square", i, to)
	}
	d := p.builder(s)
	if k := d.on(to); k >= 0 && k != i {
		return plan.Plan{}, fmt.Errorf("the %s stands on %v: it must go first", p.kinds.NameOf(d.pieces[k].Piece), to)
	}
	hand := func(d *builder) { d.byHand(i, to) }
	if !s.Pieces[i].Magnet {
		hand(d)
	} else if err := d.bring(ctx, i, d.square(to)); err != nil {
		return plan.Plan{}, err
	}
	return p.validated(s, d, func(made plan.Plan) error { return p.Check(s, made) }, hand)
}

// byHand has a person set piece i on a square, its own or another.
func (d *builder) byHand(i int, to game.Square) {
	if d.pieces[i].Square == to {
		d.askStraight(i)
	} else {
		d.askMove(i, d.square(to), "")
	}
}

// Rest plans anew what is left of a plan, for the pieces as they stand now: each
// piece carried in the steps goes where they bring it, and what they ask for is
// asked for. Pieces that step aside, or are set straight, are thought of afresh.
func (p *Planner) Rest(ctx context.Context, s plan.Scene, steps []plan.Step) (plan.Plan, error) {
	d := p.builder(s)
	for _, e := range outcomes(steps) {
		if err := d.run(ctx, e); err != nil {
			return plan.Plan{}, err
		}
	}
	return p.validated(s, d, func(made plan.Plan) error { return p.Check(s, made) }, func(d *builder) {
		for _, e := range outcomes(steps) {
			d.runByHand(e)
		}
		d.groupAsks()
	})
}

// errands are the steps that say what is to become of the pieces.
func outcomes(steps []plan.Step) (out []plan.Step) {
	for _, s := range steps {
		switch {
		case s.Do == plan.Carry && s.Text == "" && len(s.PiecePath) > 0:
			out = append(out, s)
		case s.Do == plan.Ask && (len(s.Acts) > 0 || s.From != s.To || s.From >= game.NoSquare):
			out = append(out, s)
		}
	}
	return out
}

// run does one errand.
func (d *builder) run(ctx context.Context, e plan.Step) error {
	if e.Do == plan.Ask {
		d.add(e)
		d.asks++
		for _, one := range e.Single() {
			d.answered(one)
		}
		return nil
	}
	i := d.meant(e)
	if i < 0 {
		return fmt.Errorf("the %s that was to be carried from %v is not there: read the board again first", d.p.kinds.NameOf(e.Piece), e.From)
	}
	if err := d.bring(ctx, i, target{e.PiecePath[len(e.PiecePath)-1], e.To}); err != nil {
		return err
	}
	d.pieces = d.fallen()
	return nil
}

// runByHand has a person do one errand.
func (d *builder) runByHand(e plan.Step) {
	i := d.meant(e)
	switch {
	case e.Do == plan.Ask:
		_ = d.run(context.Background(), e) // a question is only passed on
	case i >= 0 && e.To >= game.NoSquare:
		d.askOff(i)
	case i >= 0 && e.From >= game.NoSquare:
		d.remove(i)
		d.askOn(e.Piece, e.To)
	case i >= 0:
		d.askMove(i, d.square(e.To), "")
	}
}

// meant is the piece that a carry is about: on its square, or beside the board
// where the carry began; −1 if there is none.
func (d *builder) meant(e plan.Step) int {
	if e.Do != plan.Carry {
		return -1
	}
	if e.From < game.NoSquare {
		if k := d.on(e.From); k >= 0 && d.pieces[k].Piece == e.Piece {
			return k
		}
		return -1
	}
	best := -1
	for k, m := range d.pieces {
		if m.Square == game.NoSquare && m.Piece == e.Piece &&
			(best < 0 || m.At.Distance(e.PiecePath[0]) < d.pieces[best].At.Distance(e.PiecePath[0])) {
			best = k
		}
	}
	return best
}
