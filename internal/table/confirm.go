// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// confirmCarry looks whether the piece that was just carried stands where it
// belongs. It is fetched where it strayed, carried again where it stayed, and
// asked for when that did not help.
func (t *Table) confirmCarry(ctx context.Context, w Way) error {
	for try := 0; ; try++ {
		is, s, err := t.v.lookFor(ctx, w)
		switch {
		case errors.Is(err, errRight):
			return t.arriveBy(ctx, w, RequestTrust)
		case err != nil:
			return err
		case is == arrived:
			t.s.Suspects.found(t.m, w, s)
			return t.arriveBy(ctx, w, CarrySeen)
		case is == unseen:
			return t.arriveBy(ctx, w, CarryEnded)
		}
		t.missed(w, is, s)
		if err := t.d.record(ctx, Record{State: t.d.state, What: CarryLost, Piece: w.Piece, From: w.From, To: w.To, JPEG: t.v.shown.JPEG}); err != nil {
			return err
		}
		if try < mends && !t.s.Suspects.isUseless(t.m.Names.Of(w.From)) && is != gone {
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
func (t *Table) missed(w Way, is Sighting, s sight.Stray) {
	if is == strayed || is == stayed {
		t.s.Suspects.found(t.m, w, s)
	} else {
		t.s.Suspects.missed(t.m)
	}
}

// arriveBy notes that a piece has come to the end of its way, and how that is known.
func (t *Table) arriveBy(ctx context.Context, w Way, how Happening) error {
	t.m.Move(w.Piece, w.From, w.To)
	if t.m.Now.Way = nil; how == RequestTrust {
		t.m.Vouched[w.To] = true
	}
	return t.d.record(ctx, Record{State: t.d.state, What: how, Piece: w.Piece, From: w.From, To: w.To})
}

// bringAgain carries a piece on from where it was seen; false when no way is found.
func (t *Table) bringAgain(ctx context.Context, w Way, is Sighting, s sight.Stray) (bool, error) {
	scene, i := t.m.SceneWith(t.c.scene(), w, s, is == strayed, t.s.Suspects.isUseless)
	goal, ok := t.m.Layout.goalOf(w.To)
	if !ok {
		return false, nil
	}
	m := scene.Pieces[i]
	square := chess.NoSquare
	if w.To < Slot {
		square = chess.Square(w.To)
	}
	rest := []carry.Step{{Do: carry.Carry, Piece: w.Piece, From: m.Square, To: square, PiecePath: []frame.Spot[frame.Board]{m.At, goal}}}
	plan, err := t.p.Planner.Mender.Rest(ctx, scene, rest)
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	if err != nil || plan.Asks() > 0 {
		return false, nil
	}
	what := Fetched
	if is == stayed {
		what = NotFollowed
	}
	if err := t.d.record(ctx, Record{State: t.d.state, What: what, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
		return false, err
	}
	t.d.Observe(Event{Plan: &plan, Scene: &scene})
	return true, t.c.steps(ctx, plan)
}

// askToStand asks a person to stand a piece where it was to be carried.
func (t *Table) askToStand(ctx context.Context, w Way) error {
	return t.askFor(ctx, w, t.standNotice(w))
}

// askFor asks a person, by a notice, for a piece at the end of its way, and waits
// until it is seen there or a person says that it is.
func (t *Table) askFor(ctx context.Context, w Way, n notice.Notice) error {
	working := t.d.state
	if err := t.request(ctx, n, Record{What: Requested, Said: n.Text, Piece: w.Piece, To: w.To}); err != nil {
		return err
	}
	how, err := t.awaitStanding(ctx, w, n)
	if err != nil {
		return err
	}
	if err := t.arriveBy(ctx, w, how); err != nil {
		return err
	}
	return t.enter(ctx, to(working, RequestDone))
}

// awaitStanding waits until a piece is seen at the end of its way. A place that
// no picture shows is asked about.
func (t *Table) awaitStanding(ctx context.Context, w Way, n notice.Notice) (Happening, error) {
	for looks := 1; ; looks++ {
		is, _, err := t.v.lookFor(ctx, w)
		if err == nil && looks%remindAfter == 0 && is != arrived && is != unseen {
			err = t.d.tell(ctx, n)
		}
		if err == nil && is == unseen && w.To == Chute {
			return CarryEnded, nil
		}
		if err == nil && is == unseen {
			_, err = t.d.ask(ctx, notice.Question{Text: n.Text, Choices: []string{"it stands there"}, Moves: []chess.Move{0}})
		}
		switch {
		case err == nil && is == unseen, errors.Is(err, errRight):
			return RequestTrust, nil
		case err != nil:
			return "", err
		case is == arrived:
			return CarrySeen, nil
		}
	}
}

// standNotice asks for a piece that got lost on its way.
func (t *Table) standNotice(w Way) notice.Notice {
	text := fmt.Sprintf("I lost the %v on the way. Please stand it on %s.", w.Piece, w.To.words(len(t.m.Layout.Slots)))
	n := notice.Notice{Kind: notice.PleasePut, Text: text, Piece: w.Piece}
	if w.To == Chute {
		n.Kind, n.Text = notice.PleaseMend, fmt.Sprintf("I lost the %v on the way to the drawer. Please take it off the board.", w.Piece)
	}
	act := notice.Act{Piece: w.Piece, From: chess.NoSquare, To: chess.NoSquare}
	if w.To >= 0 && w.To < Slot {
		act.To = chess.Square(w.To)
		n.Squares = []chess.Square{act.To}
	} else if at, ok := t.m.Layout.spotOf(w.To); ok {
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
	is, _, err := t.v.lookFor(ctx, w)
	switch {
	case errors.Is(err, errRight):
		return t.arriveBy(ctx, w, RequestTrust)
	case err != nil:
		return err
	case is == stayed:
		t.m.Now.Way = nil
		return t.d.record(ctx, Record{State: t.d.state, What: CarrySeen, Piece: w.Piece, From: w.From, To: w.From})
	case is == unseen:
		return t.askToStand(ctx, w)
	}
	return t.confirmCarry(ctx, w)
}
