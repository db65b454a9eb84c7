// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// confirmCarry looks whether the piece that was just carried stands where it
// belongs. It is fetched where it strayed, carried again where it stayed, and
// asked for when that did not help.
func (t *Table) confirmCarry(ctx context.Context, w places.Way) error {
	for try := 0; ; try++ {
		is, s, err := t.v.LookFor(ctx, w)
		switch {
		case errors.Is(err, desk.ErrRight):
			return t.arriveBy(ctx, w, journal.RequestTrust)
		case err != nil:
			return err
		case is == view.Arrived:
			t.s.Suspects.Found(t.m, w, diagnosis.Sighting{At: s.At, Sigma: s.Sigma})
			return t.arriveBy(ctx, w, journal.CarrySeen)
		case is == view.Unseen:
			return t.arriveBy(ctx, w, journal.CarryEnded)
		}
		t.missed(w, is, s)
		if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.CarryLost, Piece: w.Piece, From: w.From, To: w.To, JPEG: t.v.Shown.JPEG}); err != nil {
			return err
		}
		if try < mends && !t.s.Suspects.IsUseless(t.m.Names.Of(w.From)) && is != view.Gone {
			ok, err := t.bringAgain(ctx, w, is, s)
			if err != nil {
				return err
			}
			if ok {
				continue
			}
		}
		return t.askToStand(ctx, w)
	}
}

// missed tells the diagnosis of a piece that was not seen where it was carried to.
func (t *Table) missed(w places.Way, is view.Sighting, s sight.Stray) {
	if is == view.Strayed || is == view.Stayed {
		t.s.Suspects.Found(t.m, w, diagnosis.Sighting{At: s.At, Sigma: s.Sigma})
	} else {
		t.s.Suspects.Missed(t.m)
	}
}

// arriveBy notes that a piece has come to the end of its way, and how that is known.
func (t *Table) arriveBy(ctx context.Context, w places.Way, how journal.Happening) error {
	t.m.Move(w.Piece, w.From, w.To)
	if t.m.Now.Way = nil; how == journal.RequestTrust && w.To != places.Person {
		t.m.Vouched[w.To] = true
	}
	return t.d.Record(ctx, journal.Record{State: t.d.State, What: how, Piece: w.Piece, From: w.From, To: w.To})
}

// bringAgain carries a piece on from where it was seen; false when no way is found.
func (t *Table) bringAgain(ctx context.Context, w places.Way, is view.Sighting, s sight.Stray) (bool, error) {
	scene, i := t.m.SceneWith(t.c.Scene(), w, s, is == view.Strayed, t.s.Suspects.IsUseless)
	goal, ok := t.m.Layout.GoalOf(w.To)
	if !ok {
		return false, nil
	}
	m := scene.Pieces[i]
	square := chess.NoSquare
	if w.To < places.Slot {
		square = chess.Square(w.To)
	}
	rest := []plan.Step{{Do: plan.Carry, Piece: w.Piece, From: m.Square, To: square, PiecePath: []frame.Spot[frame.Board]{m.At, goal}}}
	plan, err := t.p.Planner.Mender.Rest(ctx, scene, rest)
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	if err != nil || plan.Asks() > 0 {
		return false, nil
	}
	what := journal.Fetched
	if is == view.Stayed {
		what = journal.NotFollowed
	}
	if err := t.d.Record(ctx, journal.Record{State: t.d.State, What: what, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
		return false, err
	}
	t.d.Observe(desk.Event{Plan: &plan, Scene: &scene})
	return true, t.c.Steps(ctx, plan)
}

// askToStand asks a person to stand a piece where it was to be carried.
func (t *Table) askToStand(ctx context.Context, w places.Way) error {
	return t.askFor(ctx, w, t.standNotice(w))
}

// askFor asks a person, by a notice, for a piece at the end of its way, and waits
// until it is seen there or a person says that it is.
func (t *Table) askFor(ctx context.Context, w places.Way, n notice.Notice) error {
	working := t.d.State
	if err := t.request(ctx, n, journal.Record{What: journal.Requested, Said: n.Text, Piece: w.Piece, To: w.To}); err != nil {
		return err
	}
	how, err := t.awaitStanding(ctx, w, n)
	if err != nil {
		return err
	}
	if how == journal.RequestTrust && w.To >= places.Slot && (t.m.Narrow || !t.v.MayStandIn(w.Piece, w.To)) {
		t.m.Shun(w.To)
		w.To = places.Person // as near as there is room for; not to be gripped there
	}
	if err := t.arriveBy(ctx, w, how); err != nil {
		return err
	}
	return t.enter(ctx, journal.TurnTo(working, journal.RequestDone))
}

// awaitStanding waits until a piece is seen at the end of its way. A place that
// no picture shows is asked about.
func (t *Table) awaitStanding(ctx context.Context, w places.Way, n notice.Notice) (journal.Happening, error) {
	for looks := 1; ; looks++ {
		is, _, err := t.v.LookFor(ctx, w)
		if err == nil && looks%view.RemindAfter == 0 && is != view.Arrived && is != view.Unseen {
			err = t.d.Tell(ctx, n)
		}
		if err == nil && is == view.Unseen && w.To == places.Chute {
			return journal.CarryEnded, nil
		}
		if err == nil && is == view.Unseen {
			_, err = t.d.Ask(ctx, notice.Question{Text: n.Text, Choices: []string{"it stands there"}, Moves: []chess.Move{0}})
		}
		switch {
		case err == nil && is == view.Unseen, errors.Is(err, desk.ErrRight):
			return journal.RequestTrust, nil
		case err != nil:
			return "", err
		case is == view.Arrived:
			return journal.CarrySeen, nil
		}
	}
}

// standNotice asks for a piece that got lost on its way.
func (t *Table) standNotice(w places.Way) notice.Notice {
	text := fmt.Sprintf("I lost the %v on the way. Please stand it on %s.", w.Piece, w.To.Words(len(t.m.Layout.Slots)))
	n := notice.Notice{Kind: notice.PleasePut, Text: text, Piece: w.Piece}
	if w.To == places.Chute {
		n.Kind, n.Text = notice.PleaseMend, fmt.Sprintf("I lost the %v on the way to the drawer. Please take it off the board.", w.Piece)
	}
	act := notice.Act{Piece: w.Piece, From: chess.NoSquare, To: chess.NoSquare}
	if w.To >= 0 && w.To < places.Slot {
		act.To = chess.Square(w.To)
		n.Squares = []chess.Square{act.To}
	} else if at, ok := t.m.Layout.SpotOf(w.To); ok {
		n.Slot = &at
	}
	n.Acts = []notice.Act{act}
	n.FEN = t.m.FENWhen(w)
	return n
}

// settleWay finds, after a break, the piece that was being carried, and brings
// it to the end of its way: a piece is in one place, and nothing is written
// down that was not seen.
func (t *Table) settleWay(ctx context.Context) error {
	if t.m.Now.Way == nil {
		return nil
	}
	w := *t.m.Now.Way
	is, _, err := t.v.LookFor(ctx, w)
	switch {
	case errors.Is(err, desk.ErrRight):
		return t.arriveBy(ctx, w, journal.RequestTrust)
	case err != nil:
		return err
	case is == view.Stayed:
		t.m.Now.Way = nil
		return t.d.Record(ctx, journal.Record{State: t.d.State, What: journal.CarrySeen, Piece: w.Piece, From: w.From, To: w.From})
	case is == view.Unseen:
		return t.askToStand(ctx, w)
	}
	return t.confirmCarry(ctx, w)
}
