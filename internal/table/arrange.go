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

// setUp is the task of setting the pieces up for the next game.
type setUp struct {
	*kit
	exec    *executor
	carrier *carrier
}

// arranging sets the pieces up for the next game: the machine carries what it
// can, and asks for the others in one sentence. Where the board is not as it is
// believed to be, a person is asked to set all of it up.
func (u *setUp) arranging(ctx context.Context) (journal.Turn, error) {
	start := u.job.Task().Position()
	u.goal, u.m.Decided, u.spent.replans = &start, 0, 0
	defer func() { u.goal = nil }()
	n := notice.Notice{Kind: notice.TakingBack, Text: u.carryingSentence(), FEN: u.m.BoardFEN()}
	if err := u.d.Tell(ctx, n); err != nil {
		return journal.Turn{}, err
	}
	if err := u.carrier.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	known, err := u.isAsBelieved(ctx)
	if err != nil {
		return journal.Turn{}, err
	}
	told := !known
	if known {
		if told, err = u.setUpByMachine(ctx, start); err != nil {
			return journal.Turn{}, err
		}
	} else if err := u.askForAll(ctx, start); err != nil {
		return journal.Turn{}, err
	}
	u.Eye.Learner.Reposition(start)
	if err := u.reach(ctx, start, told); err != nil {
		return journal.Turn{}, err
	}
	return u.arrangedAll(start), nil
}

// isAsBelieved looks whether the pieces stand where the table believes them. A
// game that was over waits for that: somebody may have begun to tidy up.
func (u *setUp) isAsBelieved(ctx context.Context) (bool, error) {
	if u.job.State() != journal.BrokenOff {
		err := u.reach(ctx, u.m.Game.Position(), false)
		if err == nil {
			u.v.InspectSlots()
		}
		return true, err
	}
	u.job.Looked()
	err := u.v.UntilClear(ctx)
	if errors.Is(err, desk.ErrRight) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	o := u.v.Evidence()
	if !o.IsOpen() {
		return true, nil
	}
	u.v.InspectSlots()
	return len(o.Differing(u.m.Now.Board)) == 0 && len(u.v.Strangers(places.Person)) == 0, nil
}

// setUpByMachine carries the pieces home; it says whether the plan ends with a
// request to a person.
func (u *setUp) setUpByMachine(ctx context.Context, start chess.Position) (bool, error) {
	scene := u.c.Scene()
	plan, _, err := u.Planner.Drafter.SetUpTo(ctx, scene, start)
	if err != nil {
		return false, journal.InPart(journal.PartPlanner, err)
	}
	clear(u.m.Offsets) // they are about to move
	if err := u.exec.run(ctx, scene, plan); err != nil {
		return false, err
	}
	return endsWithAsk(plan), nil
}

// askForAll asks a person to set up the whole board.
func (u *setUp) askForAll(ctx context.Context, start chess.Position) error {
	n := notice.Notice{Kind: notice.PleaseMend, FEN: start.FEN(),
		Text: "Please set up all pieces as at the start of a game: I am not sure where each one stands."}
	if start != chess.Start() {
		n.Text = "Please set up all pieces as the plan shows: I am not sure where each one stands."
	}
	if err := u.d.Record(ctx, journal.Record{State: u.d.State, What: journal.Requested, Said: n.Text}); err != nil {
		return err
	}
	u.m.Now.Board = places.BoardOf(start)
	return u.d.Tell(ctx, n)
}

// arrangedAll ends the task; the pieces beside the board go with the next game.
func (u *setUp) arrangedAll(start chess.Position) journal.Turn {
	u.m.Agree(start)
	u.v.InspectSlots()
	u.job.Set(u.job.Task(), journal.Arranged)
	return journal.Turn{To: journal.Over, Rec: journal.Record{What: journal.SetUpDone, Task: journal.Task{}.String(), JPEG: u.v.Shown.JPEG}}
}
