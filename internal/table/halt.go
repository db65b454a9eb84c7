// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
)

// recovery brings the table out of trouble.
type recovery struct {
	*kit
	sheet   *scoresheet
	failure error // why Trouble
}

// trouble lowers the magnet, homes the axes and goes on where the picture
// says the game stands; after a few failures within one move, or when a person
// has stopped the motors, it waits for a person first.
func (rc *recovery) trouble(ctx context.Context) (journal.Turn, error) {
	rc.spent.failures++
	part := journal.PartOf(rc.failure)
	if rc.spent.failures > mends || rc.d.IsHalted() || part == journal.PartPlayer {
		if err := rc.d.Say(ctx, troubleSentence(rc.failure, part)); err != nil {
			return journal.Turn{}, err
		}
		if err := rc.d.Await(ctx); err != nil {
			return journal.Turn{}, err
		}
		rc.spent.failures = 0
		if part == journal.PartPlayer { // nothing has moved
			return journal.TurnTo(journal.Thinking, journal.Resumed), nil
		}
	}
	if err := rc.home(ctx); err != nil {
		if errors.Is(err, desk.ErrHalted) {
			return journal.TurnTo(journal.Trouble, journal.Stopped), nil
		}
		rc.failure = err
		return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: err.Error(), Cause: string(journal.PartOf(err))}}, nil
	}
	return rc.afterHoming(), nil
}

// afterHoming goes on with what was being done.
func (rc *recovery) afterHoming() journal.Turn {
	if s, ok := journal.TaskState[rc.job.Task().Kind]; ok {
		rc.job.BreakOff()
		return journal.TurnTo(s, journal.Homed)
	}
	if rc.m.Decided != 0 {
		return journal.TurnTo(journal.Verifying, journal.Homed)
	}
	next := rc.sheet.next()
	if next.To != journal.Over {
		next.Rec = journal.Record{What: journal.Homed}
	}
	return next
}

// putOff goes on after a stroke that was given up because something stayed in its way:
// what is left is looked at and planned anew.
func (rc *recovery) putOff(why error) journal.Turn {
	rec := journal.Record{What: journal.CarryPutOff}
	if rc.spent.putOffs++; rc.spent.putOffs > mends { // looking has not helped: a person must
		rc.spent.putOffs, rc.spent.failures = 0, mends
		rc.failure = journal.InPart(journal.PartWay, why)
		return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: why.Error(), Cause: string(journal.PartWay)}}
	}
	if s, ok := journal.TaskState[rc.job.Task().Kind]; ok {
		rc.job.BreakOff()
		return journal.Turn{To: s, Rec: rec}
	}
	if rc.m.Decided != 0 {
		return journal.Turn{To: journal.Verifying, Rec: rec}
	}
	return journal.Turn{To: rc.d.State, Rec: rec}
}

func troubleSentence(failure error, p journal.Part) string {
	if errors.Is(failure, desk.ErrHalted) {
		return "The machine was stopped by hand. When all is clear, press Resume."
	}
	switch p {
	case journal.PartPlayer:
		return fmt.Sprintf("I cannot find a move: %v. Press Resume and I try again.", failure)
	case journal.PartPlug:
		return fmt.Sprintf("The motor controller is gone: its plug or its supply has come off. Nothing moves, and the game is kept. Put it back and press Resume: the axes look for their zeros and I go on. (%v.)", failure)
	case journal.PartWay:
		return "Something stays over the board and I cannot finish my move: please clear it, then press Resume."
	case journal.PartPlanner:
		return fmt.Sprintf("I find no way to carry this out: %v. Please look whether a piece stands where it should not, then press Resume.", failure)
	}
	return fmt.Sprintf("The machine has stopped: %v. Look under the board, then press Resume.", failure)
}
