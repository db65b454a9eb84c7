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
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// undoing takes moves back, the last one first: the machine carries its own
// pieces back, and those of the tray; the guest is asked for theirs.
func (t *Table) undoing(ctx context.Context) (journal.Turn, error) {
	t.m.Decided, t.tries = 0, 0
	if err := t.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	if t.progress() != BrokenOff {
		if err := t.asItWas(ctx); err != nil {
			return journal.Turn{}, err
		}
	}
	for t.Task().Plies > 0 && len(t.m.Game.Moves) > 0 {
		if err := t.undo(ctx); err != nil {
			return journal.Turn{}, err
		}
	}
	t.setJob(journal.Task{}, Idle)
	return t.next(), nil
}

// asItWas waits until the board shows the position that is to be left: a move
// that the guest had begun is put back first.
func (t *Table) asItWas(ctx context.Context) error {
	if err := t.d.Tell(ctx, notice.Notice{Kind: notice.TakingBack, Text: "I take it back. Hands off, please."}); err != nil {
		return err
	}
	return t.reach(ctx, t.m.Game.Position(), false)
}

// undo takes back the last move of the game.
func (t *Table) undo(ctx context.Context) error {
	m, after, before := t.m.Game.Moves[len(t.m.Game.Moves)-1], t.m.Game.Position(), t.m.Game.Before()
	t.job.goal, t.replans = &before, 0
	defer func() { t.job.goal = nil }()
	begun, err := t.begunUndo(ctx, m)
	if err != nil {
		return err
	}
	told := false
	if !begun {
		t.m.Now.Board, t.m.Now.Way = places.BoardOf(after), nil
		scene := t.c.Scene()
		plan, err := t.p.Planner.Drafter.TakeBack(ctx, scene, before, m)
		if err != nil {
			return &partError{partPlanner, fmt.Errorf("no way was found to take %s back: %w", before.SAN(m), err)}
		}
		if err := t.run(ctx, scene, plan); err != nil {
			return err
		}
		told = endsWithAsk(plan)
	}
	t.p.Eye.Learner.Reposition(before)
	if err := t.reach(ctx, before, told); err != nil {
		return err
	}
	return t.undone(ctx, before, m)
}

// begunUndo says, after a break, whether the board no longer shows the move:
// then somebody sets right what is left of it.
func (t *Table) begunUndo(ctx context.Context, m chess.Move) (bool, error) {
	if t.progress() != BrokenOff {
		return false, nil
	}
	t.p.Eye.Learner.Reposition(*t.job.goal)
	r, err := t.v.Settled(ctx)
	if errors.Is(err, desk.ErrRight) {
		t.looked()
		return true, nil
	}
	if err != nil {
		return false, err
	}
	t.looked()
	if r.State == sight.Moved && r.Move == m {
		t.p.Eye.Learner.Reposition(t.m.Game.Position())
		return false, nil
	}
	return true, nil
}

// undone makes it part of the record: the game goes back, the log keeps both.
func (t *Table) undone(ctx context.Context, before chess.Position, m chess.Move) error {
	t.m.Agree(before)
	t.v.InspectSlots()
	if err := t.m.Game.Pop(); err != nil {
		return err
	}
	t.d.CountPlies()
	task := journal.Task{Kind: journal.TakeBack, Plies: t.Task().Plies - 1}
	if task.Plies == 0 || len(t.m.Game.Moves) == 0 {
		t.setJob(journal.Task{}, Idle)
	} else {
		t.setJob(task, t.progress())
	}
	return t.d.Record(ctx, journal.Record{State: journal.Undoing, What: journal.TakenBack, Back: m, Task: t.Task().String(), SAN: before.SAN(m), JPEG: t.v.Shown.JPEG})
}

func endsWithAsk(p plan.Plan) bool {
	n := len(p.Steps)
	return n > 0 && p.Steps[n-1].Do == plan.Ask
}

// reach waits until pictures prove a position that the eye has been told, or a
// person says that it stands there, and says what is still missing; told says
// that the guest has just been asked for it and needs a moment.
func (t *Table) reach(ctx context.Context, want chess.Position, told bool) error {
	var last sight.Reading
	var said view.Insistence
	settled := 0
	for same := 0; same < sure; {
		r, err := t.v.Look(ctx)
		if errors.Is(err, desk.ErrRight) {
			t.p.Eye.Learner.Agree(want)
			return t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.RequestTrust})
		}
		if err != nil {
			return err
		}
		if r.State == sight.Same {
			same++
			continue
		}
		same = 0
		if r.State == sight.Hand && last.State == sight.Hand {
			if err := t.v.StayingHand(ctx, r); err != nil {
				return err
			}
		}
		if r.State == sight.Hand { // somebody is at work on it
			settled = 0
		} else {
			settled++
		}
		isSteady := settled > 1 && (view.Alike(last, r) || settled > view.Flickers)
		if last = r; !isSteady || !said.IsDue(r) {
			continue
		}
		if told {
			told = false
			continue
		}
		if err := t.d.Tell(ctx, wording.ReachNotice(want, r)); err != nil {
			return err
		}
	}
	return nil
}
