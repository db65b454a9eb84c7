// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/sight"
)

// setting homes the axes and looks until pictures prove that the board shows
// the position, or what is left of the move that was being made.
func (t *Table) setting(ctx context.Context) (Turn, error) {
	if err := t.home(ctx); err != nil {
		return Turn{}, err
	}
	if w := t.Task(); w.Kind != NoTask {
		return w.turn(), nil
	}
	if err := t.settleWay(ctx); err != nil {
		return Turn{}, err
	}
	var told Insistence
	for {
		r, err := t.v.settled(ctx)
		if errors.Is(err, errRight) {
			return t.rightAtFirst(), nil
		}
		if err != nil {
			return Turn{}, err
		}
		if turn, ok := t.begun(r); ok {
			return turn, nil
		}
		if !told.isDue(r) {
			continue
		}
		if err := t.d.tell(ctx, StartNotice(r, t.m.Game.Position())); err != nil {
			return Turn{}, err
		}
	}
}

// seen is the turn once the board is known to show the game's position.
func (t *Table) seen() Turn { return t.turnTo(Record{What: PositionSeen}) }

// rightAtFirst is the turn when a person calls the first pictures right. With a
// move decided that may mean the board before it or after it: the person was
// asked something before the break. Only where no square speaks against the
// board before it is it that one; else verifying looks, and asks, for the move.
func (t *Table) rightAtFirst() Turn {
	pos := t.m.Game.Position()
	if t.m.Decided != 0 {
		o := t.v.evidence()
		if odd := o.differing(BoardOf(pos)); !o.isOpen() || len(odd) > 0 {
			return Turn{Verifying, Record{What: PositionOdd, Squares: odd}}
		}
	}
	t.p.Eye.Learner.Agree(pos)
	return t.seen()
}

// begun says what a first settled picture begins, if it shows anything that
// the game can go on from.
func (t *Table) begun(r sight.Reading) (Turn, bool) {
	switch {
	case r.State == sight.Same:
		return t.seen(), true
	case r.State == sight.Moved && t.m.Decided != 0 && r.Move == t.m.Decided:
		return to(Verifying, PositionSeen), true
	case r.State == sight.Moved && t.m.Decided == 0 && !t.m.IsMachinesTurn():
		t.first = r
		return to(Reading, ChangeSeen), true
	case t.m.Decided != 0 && t.isPart():
		return Turn{Verifying, Record{What: PositionOdd, Squares: r.Squares}}, true
	}
	return Turn{}, false
}

// isPart says whether the last picture shows the decided move half made: each
// square as before it or as after it, and no piece astray.
func (t *Table) isPart() bool {
	before, after := BoardOf(t.m.Game.Position()), BoardOf(t.m.After())
	o := t.v.evidence()
	if !o.isOpen() { // nothing can be told of single places: verifying looks closer
		return true
	}
	return len(o.differingBoth(before, after)) <= mostAstray
}

// mostAstray is how many squares may look like neither board: the one that a
// piece left halfway leans over.
const mostAstray = 1
