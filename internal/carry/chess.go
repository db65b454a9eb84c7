// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// This file is where chess comes in: each of its moves is a change made of acts,
// and the rest of the package knows no rules.

// Chess is the game of chess for the planner.
func Chess() Game {
	start := chess.Start()
	return Game{Files: chess.Board.Files, Ranks: chess.Board.Ranks, Kinds: *chess.Kinds, Start: &start}
}

// NewPlanner returns a planner for chess on the rig.
func NewPlanner(r *rig.Rig) (*Planner, error) { return NewPlannerFor(Chess(), r) }

// Move plans one legal move from the position that stands on the board. What
// the machine cannot do itself it asks for; it never refuses a legal move.
func (p *Planner) Move(ctx context.Context, s plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error) {
	c, err := changeOf(&pos, m)
	if err != nil {
		return plan.Plan{}, err
	}
	return p.Make(ctx, s, c)
}

// Resume plans what is left of a legal move when some of it is done: the
// captured piece is off, one of the castling pieces has gone, a piece was
// adjusted. The scene is the table as it was measured just now; pos is the
// position before the move.
func (p *Planner) Resume(ctx context.Context, s plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error) {
	c, err := changeOf(&pos, m)
	if err != nil {
		return plan.Plan{}, err
	}
	return p.Finish(ctx, s, c)
}

// TakeBack plans to undo the legal move m that was made from position before;
// the board shows the position after it.
func (p *Planner) TakeBack(ctx context.Context, s plan.Scene, before chess.Position, m chess.Move) (plan.Plan, error) {
	c, err := changeOf(&before, m)
	if err != nil {
		return plan.Plan{}, fmt.Errorf("%w: it cannot have been made there", err)
	}
	return p.Undo(ctx, s, c)
}

// SetUpTo plans as SetUp does, to the position from which the next game begins.
func (p *Planner) SetUpTo(ctx context.Context, s plan.Scene, start chess.Position) (plan.Plan, float64, error) {
	other := *p
	usual := chess.Start()
	other.start, other.isShown = &start, start.Key() != usual.Key()
	return other.SetUp(ctx, s)
}

// changeOf is a legal move as a change.
func changeOf(pos *chess.Position, m chess.Move) (Change, error) {
	if !pos.Legal(m) {
		return Change{}, fmt.Errorf("%v is not a legal move in %s", m, pos.FEN())
	}
	after := pos.After(m)
	return Change{Name: m.String(), Before: pos, After: &after, Acts: pos.Acts(m)}, nil
}

var _ game.Layout = (*chess.Position)(nil)
