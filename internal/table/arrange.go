// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// arranging sets the pieces up for the next game: the machine carries what it
// can, and asks for the others in one sentence. Where the board is not as it is
// believed to be, a person is asked to set all of it up.
func (t *Table) arranging(ctx context.Context) (journal.Turn, error) {
	start := chess.Start()
	t.job.goal, t.m.Decided, t.replans = &start, 0, 0
	defer func() { t.job.goal = nil }()
	n := notice.Notice{Kind: notice.TakingBack, Text: t.carryingSentence(), FEN: t.m.BoardFEN()}
	if err := t.d.Tell(ctx, n); err != nil {
		return journal.Turn{}, err
	}
	if err := t.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	known, err := t.isAsBelieved(ctx)
	if err != nil {
		return journal.Turn{}, err
	}
	told := !known
	if known {
		if told, err = t.setUpByMachine(ctx); err != nil {
			return journal.Turn{}, err
		}
	} else if err := t.askForAll(ctx, start); err != nil {
		return journal.Turn{}, err
	}
	t.p.Eye.Learner.Reposition(start)
	if err := t.reach(ctx, start, told); err != nil {
		return journal.Turn{}, err
	}
	return t.arrangedAll(start), nil
}

// isAsBelieved looks whether the pieces stand where the table believes them. A
// game that was over waits for that: somebody may have begun to tidy up.
func (t *Table) isAsBelieved(ctx context.Context) (bool, error) {
	if t.progress() != BrokenOff {
		err := t.reach(ctx, t.m.Game.Position(), false)
		if err == nil {
			t.v.InspectSlots()
		}
		return true, err
	}
	t.looked()
	err := t.v.UntilClear(ctx)
	if errors.Is(err, desk.ErrRight) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	o := t.v.Evidence()
	if !o.IsOpen() {
		return true, nil
	}
	t.v.InspectSlots()
	return len(o.Differing(t.m.Now.Board)) == 0 && len(t.v.Strangers(places.Person)) == 0, nil
}

// setUpByMachine carries the pieces home; it says whether the plan ends with a
// request to a person.
func (t *Table) setUpByMachine(ctx context.Context) (bool, error) {
	scene := t.c.Scene()
	plan, _, err := t.p.Planner.Drafter.SetUp(ctx, scene)
	if err != nil {
		return false, &partError{partPlanner, err}
	}
	clear(t.m.Offsets) // they are about to move
	if err := t.run(ctx, scene, plan); err != nil {
		return false, err
	}
	return endsWithAsk(plan), nil
}

// askForAll asks a person to set up the whole board.
func (t *Table) askForAll(ctx context.Context, start chess.Position) error {
	n := notice.Notice{Kind: notice.PleaseMend, FEN: start.FEN(),
		Text: "Please set up all pieces as at the start of a game: I am not sure where each one stands."}
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.Requested, Said: n.Text}); err != nil {
		return err
	}
	t.m.Now.Board = places.BoardOf(start)
	return t.d.Tell(ctx, n)
}

// arrangedAll ends the task; the pieces beside the board go with the next game.
func (t *Table) arrangedAll(start chess.Position) journal.Turn {
	t.m.Agree(start)
	t.v.InspectSlots()
	t.setJob(t.Task(), Arranged)
	return journal.Turn{To: journal.Over, Rec: journal.Record{What: journal.SetUpDone, Task: journal.Task{}.String(), JPEG: t.v.Shown.JPEG}}
}

// Standing is where the pieces are now: for the next game.
func (t *Table) Standing() places.Standing { return t.m.Now.Clone() }
