// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// asker asks a person for pieces.
type asker struct{ *kit }

// request asks a person for something: r is the record of it.
func (a *asker) request(ctx context.Context, n notice.Notice, r journal.Record) error {
	if err := a.enter(ctx, journal.Turn{To: journal.Removal, Rec: r}); err != nil {
		return err
	}
	return a.d.Tell(ctx, n)
}

// askFor asks a person, by a notice, for a piece at the end of its way, and waits
// until it is seen there or a person says that it is.
func (a *asker) askFor(ctx context.Context, w places.Way, n notice.Notice) error {
	working := a.d.State
	if err := a.request(ctx, n, journal.Record{What: journal.Requested, Said: n.Text, Piece: w.Piece, To: w.To}); err != nil {
		return err
	}
	how, err := a.awaitStanding(ctx, w, n)
	if err != nil {
		return err
	}
	if how == journal.RequestTrust && w.To >= places.Slot && (a.m.Narrow || !a.v.MayStandIn(w.Piece, w.To)) {
		a.m.Shun(w.To)
		w.To = places.Person // as near as there is room for; not to be gripped there
	}
	if err := a.arriveBy(ctx, w, how); err != nil {
		return err
	}
	return a.enter(ctx, journal.TurnTo(working, journal.RequestDone))
}

// awaitStanding waits until a piece is seen at the end of its way. A place that
// no picture shows is asked about.
func (a *asker) awaitStanding(ctx context.Context, w places.Way, n notice.Notice) (journal.Happening, error) {
	for looks := 1; ; looks++ {
		is, _, err := a.v.LookFor(ctx, w)
		if err == nil && looks%view.RemindAfter == 0 && is != view.Arrived && is != view.Unseen {
			err = a.d.Tell(ctx, n)
		}
		if err == nil && is == view.Unseen && w.To == places.Chute {
			return journal.CarryEnded, nil
		}
		if err == nil && is == view.Unseen {
			_, err = a.d.Ask(ctx, notice.Question{Text: n.Text, Choices: []string{"it stands there"}, Moves: []chess.Move{0}})
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

// arriveBy notes that a piece has come to the end of its way, and how that is known.
func (a *asker) arriveBy(ctx context.Context, w places.Way, how journal.Happening) error {
	a.m.Move(w.Piece, w.From, w.To)
	if a.m.Now.Way = nil; how == journal.RequestTrust && w.To != places.Person {
		a.m.Vouched[w.To] = true
	}
	return a.d.Record(ctx, journal.Record{State: a.d.State, What: how, Piece: w.Piece, From: w.From, To: w.To})
}

// askToStand asks a person to stand a piece where it was to be carried.
func (a *asker) askToStand(ctx context.Context, w places.Way) error {
	return a.askFor(ctx, w, a.standNotice(w))
}

// standNotice asks for a piece that got lost on its way.
func (a *asker) standNotice(w places.Way) notice.Notice {
	text := fmt.Sprintf("I lost the %v on the way. Please stand it on %s.", w.Piece, w.To.Words(len(a.m.Layout.Slots)))
	n := notice.Notice{Kind: notice.PleasePut, Text: text, Piece: w.Piece}
	if w.To == places.Chute {
		n.Kind, n.Text = notice.PleaseMend, fmt.Sprintf("I lost the %v on the way to the drawer. Please take it off the board.", w.Piece)
	}
	act := notice.Act{Piece: w.Piece, From: chess.NoSquare, To: chess.NoSquare}
	if w.To >= 0 && w.To < places.Slot {
		act.To = chess.Square(w.To)
		n.Squares = []chess.Square{act.To}
	} else if at, ok := a.m.Layout.SpotOf(w.To); ok {
		n.Slot = &at
	}
	n.Acts = []notice.Act{act}
	n.FEN = a.m.FENWhen(w)
	return n
}

// askStraight asks for one piece in the middle of its square.
func (a *asker) askStraight(ctx context.Context, q chess.Square) error {
	piece, after := a.m.Now.Board[q], a.m.After()
	return a.askFor(ctx, places.Way{Piece: piece, From: places.Place(q), To: places.Place(q)}, notice.Notice{
		Kind: notice.PleaseMend, Piece: piece, Squares: []chess.Square{q}, FEN: after.FEN(),
		Text: fmt.Sprintf("The %v was pushed over the line: please set it in the middle of %v.", piece, q)})
}

// askBack asks for pieces that somebody took out of the tray: the machine
// cannot set them up, or promote to them, when they are gone.
func (a *asker) askBack(ctx context.Context) error {
	for len(a.m.Taken) > 0 {
		m := a.m.Taken[0]
		a.m.Taken = a.m.Taken[1:]
		if err := a.askSlot(ctx, m); err != nil {
			return err
		}
	}
	return nil
}

// askSlot asks for one of them. Where another has come into its slot since, it is to
// stand in the best that is free; without any it stays with the person.
func (a *asker) askSlot(ctx context.Context, m places.Beside) error {
	at, _ := a.m.Layout.SpotOf(m.Place)
	if a.m.Now.IsHeld(m.Place) {
		scene := a.c.Scene()
		scene.Pieces = append(scene.Pieces, a.m.Piece(m.Piece, chess.NoSquare, at, func(string) bool { return false }))
		spot, ok := a.Planner.Mender.SlotFor(scene, len(scene.Pieces)-1)
		if !ok {
			return nil
		}
		at, m.Place = spot, a.m.Layout.PlaceOf(chess.NoSquare, spot)
	}
	err := a.askFor(ctx, places.Way{Piece: m.Piece, From: places.Person, To: m.Place}, notice.Notice{Kind: notice.PleasePut, Piece: m.Piece, Slot: &at, FEN: a.m.BoardFEN(),
		Text: fmt.Sprintf("Please put the %v back into %s.", m.Piece, m.Place.Words(len(a.m.Layout.Slots))),
		Acts: []notice.Act{{Piece: m.Piece, From: chess.NoSquare, To: chess.NoSquare}}})
	if slices.Contains(a.m.Now.Beside, m) {
		a.m.Vouched[m.Place] = true // asked for once, even where the pictures disagree about it
	}
	return err
}
