// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// Change is one move of some game as it is done on the board: from what stands
// there before, by acts, to what stands there after.
type Change struct {
	Name          string // for messages
	Before, After game.Layout
	Acts          []game.Act
}

// undone is the change that takes c back.
func (c Change) undone() Change {
	return Change{Name: c.Name, Before: c.After, After: c.Before, Acts: game.Undone(c.Acts)}
}

// Make plans a change of which nothing is done yet.
func (p *Planner) Make(ctx context.Context, s plan.Scene, c Change) (plan.Plan, error) {
	if err := p.fits(s, c.Before); err != nil {
		return plan.Plan{}, err
	}
	return p.change(ctx, s, c, func(*builder) {})
}

// Finish plans what is left of a change when some of it is done.
func (p *Planner) Finish(ctx context.Context, s plan.Scene, c Change) (plan.Plan, error) {
	if err := p.between(s, c); err != nil {
		return plan.Plan{}, err
	}
	return p.change(ctx, s, c, func(*builder) {})
}

// Undo plans to take a change back that was made; what a person must do for it
// is asked for together.
func (p *Planner) Undo(ctx context.Context, s plan.Scene, c Change) (plan.Plan, error) {
	if err := p.fits(s, c.After); err != nil {
		return plan.Plan{}, err
	}
	return p.change(ctx, s, c.undone(), (*builder).groupAsks)
}

// change plans the acts of a change that are still due; end is done to the plan
// before it is validated.
func (p *Planner) change(ctx context.Context, s plan.Scene, c Change, end func(*builder)) (plan.Plan, error) {
	d := p.builder(s)
	if err := d.perform(ctx, c.Acts); err != nil {
		return plan.Plan{}, err
	}
	end(d)
	return p.validated(s, d, func(made plan.Plan) error { return p.CheckTo(s, made, c.After) }, func(d *builder) {
		d.askFor(c.Acts)
		end(d)
	})
}

// judged has the independent checker look at the plan. Should it object, a
// person does what was wanted instead, and the objection stays on record.
func (p *Planner) validated(s plan.Scene, d *builder, check func(plan.Plan) error, hand func(*builder)) (plan.Plan, error) {
	made := d.plan()
	err := check(made)
	if err == nil {
		return made, nil
	}
	safe := p.builder(s)
	hand(safe)
	made = safe.plan()
	made.Doubt = err.Error()
	return made, check(made)
}

// fits says where the scene and a position differ.
func (p *Planner) fits(s plan.Scene, pos game.Layout) error {
	have, err := bySquare(s.Pieces)
	if err != nil {
		return err
	}
	for _, sq := range p.squares.Squares() {
		switch want := pos.At(sq); {
		case have[sq] == want:
		case have[sq] == game.NoPiece:
			return fmt.Errorf("the position has a %s on %v that the scene lacks: read the board again first", p.kinds.NameOf(want), sq)
		default:
			return fmt.Errorf("the scene has a %s on %v, the position has it %s: read the board again first", p.kinds.NameOf(have[sq]), sq, p.kinds.NameOf(want))
		}
	}
	return nil
}

// between says which square holds what it never holds while the acts of a change
// are done one after the other.
func (p *Planner) between(s plan.Scene, c Change) error {
	have, err := bySquare(s.Pieces)
	if err != nil {
		return err
	}
	for _, sq := range p.squares.Squares() {
		if h := have[sq]; !c.passes(sq, h) {
			return fmt.Errorf("the scene has %s on %v, which is no part of %v: read the board again first", p.kinds.NameOf(h), sq, c.Name)
		}
	}
	return nil
}

// passes says whether a square holds a piece before, after or between the acts.
func (c Change) passes(sq game.Square, piece game.Piece) bool {
	if piece == c.Before.At(sq) || piece == c.After.At(sq) {
		return true
	}
	for _, a := range c.Acts {
		if a.To == sq && a.Piece == piece || a.From == sq && piece == game.NoPiece {
			return true
		}
	}
	return false
}
