// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// takeBack is the task of taking moves back.
type takeBack struct {
	*kit
	sheet   *scoresheet
	exec    *executor
	carrier *carrier
}

// undoing takes moves back, the last one first: the machine carries its own
// pieces back, and those of the tray; the guest is asked for theirs.
func (b *takeBack) undoing(ctx context.Context) (journal.Turn, error) {
	b.m.Decided, b.spent.tries = 0, 0
	if err := b.carrier.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	if b.job.State() != journal.BrokenOff {
		if err := b.asItWas(ctx); err != nil {
			return journal.Turn{}, err
		}
	}
	for b.job.Task().Plies > 0 && len(b.m.Game.Moves) > 0 {
		if err := b.undo(ctx); err != nil {
			return journal.Turn{}, err
		}
	}
	b.job.Set(journal.Task{}, journal.Idle)
	return b.sheet.next(), nil
}

// asItWas waits until the board shows the position that is to be left: a move
// that the guest had begun is put back first.
func (b *takeBack) asItWas(ctx context.Context) error {
	if err := b.d.Tell(ctx, notice.Notice{Kind: notice.TakingBack, Text: "I take it back. Hands off, please."}); err != nil {
		return err
	}
	return b.reach(ctx, b.m.Game.Position(), false)
}

// undo takes back the last move of the game.
func (b *takeBack) undo(ctx context.Context) error {
	m, after, before := b.m.Game.Moves[len(b.m.Game.Moves)-1], b.m.Game.Position(), b.m.Game.Before()
	b.goal, b.spent.replans = &before, 0
	defer func() { b.goal = nil }()
	begun, err := b.begunUndo(ctx, m)
	if err != nil {
		return err
	}
	told := false
	if !begun {
		b.m.Now.Board, b.m.Now.Way = places.BoardOf(after), nil
		scene := b.c.Scene()
		plan, err := b.Planner.Drafter.TakeBack(ctx, scene, before, m)
		if err != nil {
			return journal.InPart(journal.PartPlanner, fmt.Errorf("no way was found to take %s back: %w", before.SAN(m), err))
		}
		if err := b.exec.run(ctx, scene, plan); err != nil {
			return err
		}
		told = endsWithAsk(plan)
	}
	b.Eye.Learner.Reposition(before)
	if err := b.reach(ctx, before, told); err != nil {
		return err
	}
	return b.undone(ctx, before, m)
}

// begunUndo says, after a break, whether the board no longer shows the move:
// then somebody sets right what is left of it.
func (b *takeBack) begunUndo(ctx context.Context, m chess.Move) (bool, error) {
	if b.job.State() != journal.BrokenOff {
		return false, nil
	}
	b.Eye.Learner.Reposition(*b.goal)
	r, err := b.v.Settled(ctx)
	if errors.Is(err, desk.ErrRight) {
		b.job.Looked()
		return true, nil
	}
	if err != nil {
		return false, err
	}
	b.job.Looked()
	if r.State == sight.Moved && r.Move == m {
		b.Eye.Learner.Reposition(b.m.Game.Position())
		return false, nil
	}
	return true, nil
}

// undone makes it part of the record: the game goes back, the log keeps both.
func (b *takeBack) undone(ctx context.Context, before chess.Position, m chess.Move) error {
	b.m.Agree(before)
	b.v.InspectSlots()
	if err := b.m.Game.Pop(); err != nil {
		return err
	}
	b.d.CountPlies()
	task := journal.Task{Kind: journal.TakeBack, Plies: b.job.Task().Plies - 1}
	if task.Plies == 0 || len(b.m.Game.Moves) == 0 {
		b.job.Set(journal.Task{}, journal.Idle)
	} else {
		b.job.Set(task, b.job.State())
	}
	return b.d.Record(ctx, journal.Record{State: journal.Undoing, What: journal.TakenBack, Back: m, Task: b.job.Task().String(), SAN: before.SAN(m), JPEG: b.v.Shown.JPEG})
}

func endsWithAsk(p plan.Plan) bool {
	n := len(p.Steps)
	return n > 0 && p.Steps[n-1].Do == plan.Ask
}
