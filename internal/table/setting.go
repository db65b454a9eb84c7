// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// start is what is done before the first turn.
type start struct {
	*kit
	sheet   *scoresheet
	carrier *carrier
	guest   *guestTurn
}

// setting homes the axes and looks until pictures prove that the board shows
// the position, or what is left of the move that was being made.
func (st *start) setting(ctx context.Context) (journal.Turn, error) {
	if err := st.home(ctx); err != nil {
		return journal.Turn{}, err
	}
	if w := st.job.Task(); w.Kind != journal.NoTask {
		return w.Turn(), nil
	}
	if err := st.carrier.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	var told view.Insistence
	for {
		r, err := st.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			return st.rightAtFirst(), nil
		}
		if err != nil {
			return journal.Turn{}, err
		}
		if turn, ok := st.begun(r); ok {
			return turn, nil
		}
		if !told.IsDue(r) {
			continue
		}
		if err := st.d.Tell(ctx, wording.StartNotice(r, st.m.Game.Position())); err != nil {
			return journal.Turn{}, err
		}
	}
}

// seen is the turn once the board is known to show the game's position.
func (st *start) seen() journal.Turn {
	return st.sheet.turnTo(journal.Record{What: journal.PositionSeen})
}

// rightAtFirst is the turn when a person calls the first pictures right. With a
// move decided that may mean the board before it or after it: the person was
// asked something before the break. Only where no square speaks against the
// board before it is it that one; else verifying looks, and asks, for the move.
func (st *start) rightAtFirst() journal.Turn {
	pos := st.m.Game.Position()
	if st.m.Decided != 0 {
		o := st.v.Evidence()
		if odd := o.Differing(places.BoardOf(pos)); !o.IsOpen() || len(odd) > 0 {
			return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.PositionOdd, Squares: odd}}
		}
	}
	st.Eye.Learner.Agree(pos)
	return st.seen()
}

// begun says what a first settled picture begins, if it shows anything that
// the game can go on from.
func (st *start) begun(r sight.Reading) (journal.Turn, bool) {
	switch {
	case r.State == sight.Same:
		return st.seen(), true
	case r.State == sight.Moved && st.m.Decided != 0 && r.Move == st.m.Decided:
		return journal.TurnTo(journal.Verifying, journal.PositionSeen), true
	case r.State == sight.Moved && st.m.Decided == 0 && !st.m.IsMachinesTurn():
		st.guest.first = r
		return journal.TurnTo(journal.Reading, journal.ChangeSeen), true
	case st.m.Decided != 0 && st.isPart():
		return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.PositionOdd, Squares: r.Squares}}, true
	}
	return journal.Turn{}, false
}

// isPart says whether the last picture shows the decided move half made: each
// square as before it or as after it, and no piece astray.
func (st *start) isPart() bool {
	before, after := places.BoardOf(st.m.Game.Position()), places.BoardOf(st.m.After())
	o := st.v.Evidence()
	if !o.IsOpen() { // nothing can be told of single places: verifying looks closer
		return true
	}
	return len(o.DifferingBoth(before, after)) <= mostAstray
}
