// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// byHand follows what a person does with one piece.
func (t *Table) byHand(a plan.Step) {
	if a.From < chess.NoSquare {
		t.s.Suspects.Handed(t.m, a.Piece, places.Place(a.From))
	}
	t.m.ByHand(a)
}

// askStep tells the guest what to do and waits until the picture shows it, or
// a person says that it is done.
func (t *Table) askStep(ctx context.Context, s plan.Step, last bool) error {
	working := t.d.State
	n := t.askNotice(s, last)
	if err := t.request(ctx, n, journal.Record{What: journal.Requested, Said: s.Text, Piece: s.Piece}); err != nil {
		return err
	}
	if last && t.job.goal != nil { // the goal is waited for anyway
		t.d.State = working
		t.d.Offer()
		return nil
	}
	if err := t.awaitDone(ctx, s, n, last); err != nil {
		return err
	}
	t.d.Believe()
	if err := t.enter(ctx, journal.TurnTo(working, journal.RequestDone)); err != nil {
		return err
	}
	if working != journal.Carrying {
		return nil
	}
	return t.d.Say(ctx, "Thank you. "+t.carryingSentence())
}

// awaitDone waits until what was asked for is seen; it tells what else differs,
// once for each sight.
func (t *Table) awaitDone(ctx context.Context, s plan.Step, n notice.Notice, last bool) error {
	var said view.Insistence
	said.IsDue(sight.Reading{}) // it has just been said
	for {
		r, err := t.v.Settled(ctx)
		if errors.Is(err, desk.ErrRight) {
			return nil
		}
		if err != nil {
			return err
		}
		if t.shows(r, s, last) {
			return nil
		}
		if !said.IsDue(r) {
			continue
		}
		n.Text = s.Text
		if len(r.Squares) > 0 {
			n.Text = fmt.Sprintf("%s I see a change on %s.", s.Text, places.List(r.Squares))
		}
		if err := t.d.Tell(ctx, n); err != nil {
			return err
		}
	}
}

// request asks a person for something: r is the record of it.
func (t *Table) request(ctx context.Context, n notice.Notice, r journal.Record) error {
	if err := t.enter(ctx, journal.Turn{To: journal.Removal, Rec: r}); err != nil {
		return err
	}
	return t.d.Tell(ctx, n)
}

func (t *Table) askNotice(s plan.Step, last bool) notice.Notice {
	n := notice.Notice{Kind: notice.PleasePut, Text: s.Text, Piece: s.Piece, Squares: []chess.Square{s.To}, Move: t.m.Decided}
	for _, a := range s.Single() {
		n.Acts = append(n.Acts, notice.Act{Piece: a.Piece, From: a.From, To: a.To})
	}
	switch {
	case len(s.Acts) > 0 || s.From < chess.NoSquare && s.To < chess.NoSquare && s.From != s.To:
		n.Kind, n.FEN, n.Squares = notice.PleaseMend, t.m.BoardFEN(), nil
	case s.To == chess.NoSquare:
		n.Kind, n.Squares = notice.PleaseTake, []chess.Square{s.From}
	case s.From == s.To:
		n.Kind, n.FEN = notice.PleaseMend, t.m.BoardFEN()
	}
	if last && t.m.Decided != 0 && n.Kind != notice.PleaseTake && s.From != s.To {
		after := t.m.After()
		n.FEN = after.FEN()
	}
	return n
}

// shows says whether the last picture shows what was asked for. The last step
// of a move must show the move itself: a pawn still to be exchanged changes the
// same squares as the queen that replaces it. Before that it is enough that the
// squares asked about look right by themselves.
func (t *Table) shows(r sight.Reading, s plan.Step, last bool) bool {
	switch {
	case len(s.Acts) == 0 && s.From == s.To:
		return t.m.IsCentred(s.To)
	case last && t.m.Decided != 0:
		return r.State == sight.Moved && r.Move == t.m.Decided || t.isBelieved(r)
	}
	want := t.m.Differing()
	if len(want) == len(r.Squares) && places.Covers(want, r.Squares) || len(want) == 0 && r.State == sight.Same {
		return true
	}
	o := t.v.Evidence()
	return o.IsOpen() && len(o.Differing(t.m.Now.Board)) == 0 && t.isPlain(s)
}

// isPlain says whether all that a step asks for can be told from which side
// stands on which square: no piece is exchanged for another of its side.
func (t *Table) isPlain(s plan.Step) bool {
	pos := t.m.Game.Position()
	for _, a := range s.Single() {
		if a.To < chess.NoSquare && a.From >= chess.NoSquare && pos.At(a.To) != chess.NoPiece && pos.At(a.To).Color() == a.Piece.Color() {
			return false
		}
	}
	return true
}
