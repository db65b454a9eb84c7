// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
)

// Halt stops the motors now; the game waits for RequestResume. It may be called
// from any goroutine, in any state: no motion begins after it.
func (t *Table) Halt() error {
	t.d.Halt()
	return t.p.Gantry.Halt()
}

// trouble lowers the magnet, homes the axes and goes on where the picture
// says the game stands; after a few failures within one move, or when a person
// has stopped the motors, it waits for a person first.
func (t *Table) trouble(ctx context.Context) (journal.Turn, error) {
	t.failures++
	part := partOf(t.failure)
	if t.failures > mends || t.d.IsHalted() || part == partPlayer {
		if err := t.d.Say(ctx, troubleSentence(t.failure, part)); err != nil {
			return journal.Turn{}, err
		}
		if err := t.d.Await(ctx); err != nil {
			return journal.Turn{}, err
		}
		t.failures = 0
		if part == partPlayer { // nothing has moved
			return journal.TurnTo(journal.Thinking, journal.Resumed), nil
		}
	}
	if err := t.home(ctx); err != nil {
		if errors.Is(err, desk.ErrHalted) {
			return journal.TurnTo(journal.Trouble, journal.Stopped), nil
		}
		t.failure = err
		return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: err.Error(), Cause: string(partGantry)}}, nil
	}
	return t.afterHoming(), nil
}

// afterHoming goes on with what was being done.
func (t *Table) afterHoming() journal.Turn {
	if s, ok := journal.TaskState[t.Task().Kind]; ok {
		t.setJob(t.job.task, t.job.progress.breakOff())
		return journal.TurnTo(s, journal.Homed)
	}
	if t.m.Decided != 0 {
		return journal.TurnTo(journal.Verifying, journal.Homed)
	}
	next := t.next()
	if next.To != journal.Over {
		next.Rec = journal.Record{What: journal.Homed}
	}
	return next
}

// putOff goes on after a stroke that was given up because something stayed in its way:
// what is left is looked at and planned anew.
func (t *Table) putOff(why error) journal.Turn {
	rec := journal.Record{What: journal.CarryPutOff}
	if t.putOffs++; t.putOffs > mends { // looking has not helped: a person must
		t.putOffs, t.failures = 0, mends
		t.failure = &partError{partWay, why}
		return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: why.Error(), Cause: string(partWay)}}
	}
	if s, ok := journal.TaskState[t.Task().Kind]; ok {
		t.setJob(t.job.task, t.job.progress.breakOff())
		return journal.Turn{To: s, Rec: rec}
	}
	if t.m.Decided != 0 {
		return journal.Turn{To: journal.Verifying, Rec: rec}
	}
	return journal.Turn{To: t.d.State, Rec: rec}
}

// home finds the axes' zeros with the magnet lowered.
func (t *Table) home(ctx context.Context) error {
	if err := t.c.Home(ctx); err != nil {
		return &partError{partGantry, err}
	}
	return nil
}

// part of the machine that a failure comes from.
type part string

const (
	partGantry  part = "gantry"
	partPlayer  part = "player"
	partPlanner part = "planner"
	partWay     part = "way" // of the carriage: something stays over it
)

// partError says which part failed.
type partError struct {
	part part
	error
}

func (e *partError) Unwrap() error { return e.error }

// partOf is the part that an error comes from; the gantry when none is named.
func partOf(err error) part {
	var p *partError
	if errors.As(err, &p) {
		return p.part
	}
	return partGantry
}

func troubleSentence(failure error, p part) string {
	if errors.Is(failure, desk.ErrHalted) {
		return "The machine was stopped by hand. When all is clear, press Resume."
	}
	switch p {
	case partPlayer:
		return fmt.Sprintf("I cannot find a move: %v. Press Resume and I try again.", failure)
	case partWay:
		return "Something stays over the board and I cannot finish my move: please clear it, then press Resume."
	case partPlanner:
		return fmt.Sprintf("I find no way to carry this out: %v. Please look whether a piece stands where it should not, then press Resume.", failure)
	}
	return fmt.Sprintf("The machine has stopped: %v. Look under the board, then press Resume.", failure)
}
