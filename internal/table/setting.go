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

// setting homes the axes and looks until pictures prove that the board shows
// the position, or what is left of the move that was being made.
func (t *Table) setting(ctx context.Context) (journal.Turn, error) {
	if err := t.home(ctx); err != nil {
		return journal.Turn{}, err
	}
	if w := t.Task(); w.Kind != journal.NoTask {
		return w.Turn(), nil
	}
	if err := t.settleWay(ctx); err != nil {
		return journal.Turn{}, err
	}
	var told view.Insistence
	for {
		r, err := t.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			return t.rightAtFirst(), nil
		}
		if err != nil {
			return journal.Turn{}, err
		}
		if turn, ok := t.begun(r); ok {
			return turn, nil
		}
		if !told.IsDue(r) {
			continue
		}
		if err := t.d.Tell(ctx, wording.StartNotice(r, t.m.Game.Position())); err != nil {
			return journal.Turn{}, err
		}
	}
}

// seen is the turn once the board is known to show the game's position.
func (t *Table) seen() journal.Turn { return t.turnTo(journal.Record{What: journal.PositionSeen}) }

// rightAtFirst is the turn when a person calls the first pictures right. With a
// move decided that may mean the board before it or after it: the person was
// asked something before the break. Only where no square speaks against the
// board before it is it that one; else verifying looks, and asks, for the move.
func (t *Table) rightAtFirst() journal.Turn {
	pos := t.m.Game.Position()
	if t.m.Decided != 0 {
		o := t.v.Evidence()
		if odd := o.Differing(places.BoardOf(pos)); !o.IsOpen() || len(odd) > 0 {
			return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.PositionOdd, Squares: odd}}
		}
	}
	t.p.Eye.Learner.Agree(pos)
	return t.seen()
}

// begun says what a first settled picture begins, if it shows anything that
// the game can go on from.
func (t *Table) begun(r sight.Reading) (journal.Turn, bool) {
	switch {
	case r.State == sight.Same:
		return t.seen(), true
	case r.State == sight.Moved && t.m.Decided != 0 && r.Move == t.m.Decided:
		return journal.TurnTo(journal.Verifying, journal.PositionSeen), true
	case r.State == sight.Moved && t.m.Decided == 0 && !t.m.IsMachinesTurn():
		t.first = r
		return journal.TurnTo(journal.Reading, journal.ChangeSeen), true
	case t.m.Decided != 0 && t.isPart():
		return journal.Turn{To: journal.Verifying, Rec: journal.Record{What: journal.PositionOdd, Squares: r.Squares}}, true
	}
	return journal.Turn{}, false
}

// isPart says whether the last picture shows the decided move half made: each
// square as before it or as after it, and no piece astray.
func (t *Table) isPart() bool {
	before, after := places.BoardOf(t.m.Game.Position()), places.BoardOf(t.m.After())
	o := t.v.Evidence()
	if !o.IsOpen() { // nothing can be told of single places: verifying looks closer
		return true
	}
	return len(o.DifferingBoth(before, after)) <= mostAstray
}

// mostAstray is how many squares may look like neither board: the one that a
// piece left halfway leans over.
const mostAstray = 1
