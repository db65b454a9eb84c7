// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
)

// Move plans one legal move from the position that stands on the board. What
// the machine cannot do itself it asks for; it never refuses a legal move.
func (p *Planner) Move(ctx context.Context, s Scene, pos chess.Position, m chess.Move) (Plan, error) {
	if !pos.Legal(m) {
		return Plan{}, fmt.Errorf("%v is not a legal move in %s", m, pos.FEN())
	}
	if err := fits(s, pos); err != nil {
		return Plan{}, err
	}
	after := pos.After(m)
	d := p.draft(s)
	if err := d.perform(ctx, &pos, m); err != nil {
		return Plan{}, err
	}
	return p.finish(s, d, &after, func(d *draft) { d.askForMove(&pos, m) })
}

// finish judges a plan that must end in a given position.
func (p *Planner) finish(s Scene, d *draft, after *chess.Position, hand func(*draft)) (Plan, error) {
	return p.judged(s, d, func(plan Plan) error { return p.CheckTo(s, plan, after) }, hand)
}

// judged has the independent checker look at the plan. Should it object, a
// person does what was wanted instead, and the objection stays on record.
func (p *Planner) judged(s Scene, d *draft, check func(Plan) error, hand func(*draft)) (Plan, error) {
	plan := d.plan()
	err := check(plan)
	if err == nil {
		return plan, nil
	}
	safe := p.draft(s)
	hand(safe)
	plan = safe.plan()
	plan.Doubt = err.Error()
	return plan, check(plan)
}

// fits says where the scene and the position differ.
func fits(s Scene, pos chess.Position) error {
	have, twice := bySquare(s.Pieces)
	if twice < chess.NoSquare {
		return fmt.Errorf("the scene has two pieces on %v: read the board again first", twice)
	}
	for sq := chess.Square(0); sq < 64; sq++ {
		switch want := pos.At(sq); {
		case have[sq] == want:
		case have[sq] == chess.NoPiece:
			return fmt.Errorf("the position has a %v on %v that the scene lacks: read the board again first", want, sq)
		default:
			return fmt.Errorf("the scene has a %v on %v, the position has it %v: read the board again first", have[sq], sq, want)
		}
	}
	return nil
}

// perform adds everything one legal move needs.
func (d *draft) perform(ctx context.Context, pos *chess.Position, m chess.Move) error {
	if pos.IsCastling(m) {
		return d.castle(ctx, pos, m)
	}
	if _, sq := pos.Captured(m); sq < chess.NoSquare {
		if err := d.takeOff(ctx, d.on(sq)); err != nil {
			return err
		}
	}
	piece := d.pieces[d.on(m.From())]
	if err := d.bring(ctx, d.on(m.From()), d.square(m.To())); err != nil {
		return err
	}
	if k := m.Promotion(); k != chess.NoKind {
		return d.promote(ctx, m.To(), chess.MakePiece(piece.Piece.Color(), k))
	}
	return nil
}

// castle brings king and rook to their places.
func (d *draft) castle(ctx context.Context, pos *chess.Position, m chess.Move) error {
	from, to := pos.RookMove(m)
	return d.bothWays(ctx, [2][2]chess.Square{{m.From(), m.To()}, {from, to}})
}

// kingFirst is how much quicker the second order must be, as a share, to be
// preferred: by custom the king moves first when castling.
const kingFirst = 0.85

// bothWays brings two pieces in the given order, or the other way round if that
// asks less, disturbs fewer or is much quicker.
func (d *draft) bothWays(ctx context.Context, legs [2][2]chess.Square) error {
	var best *draft
	for first := range 2 {
		try := d.fork()
		for k := range 2 {
			leg := legs[(first+k)%2]
			if err := try.bring(ctx, try.on(leg[0]), d.square(leg[1])); err != nil {
				return err
			}
		}
		if best == nil || try.better(best) {
			best = try
		}
	}
	*d = *best
	return nil
}

// better compares two drafts for the same end: fewer questions, then fewer
// pieces disturbed, then much less time.
func (d *draft) better(o *draft) bool {
	switch {
	case d.asks != o.asks:
		return d.asks < o.asks
	case d.aside != o.aside:
		return d.aside < o.aside
	}
	return d.time < kingFirst*o.time
}

// bring gets piece i to a target by whatever works: a free lane, own pieces
// stepping aside, a guest's piece set straight, or a question.
func (d *draft) bring(ctx context.Context, i int, to target) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if !d.pieces[i].Magnet {
		d.askMove(i, to, "")
		return nil
	}
	if h, ok := d.haul(i, to.at); ok {
		if try := d.fork(); try.carry(i, to, h) {
			*d = *try
			return nil
		}
	}
	if ok, err := d.stepAside(ctx, i, to); ok || err != nil {
		return err
	}
	if d.straighten(i, to) {
		return nil
	}
	d.askMove(i, to, ": no lane is free for it")
	return nil
}
