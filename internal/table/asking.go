// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// standing copies a position's pieces.
func standing(p chess.Position) (b [64]chess.Piece) {
	for q := range b {
		b[q] = p.At(chess.Square(q))
	}
	return b
}

// way is what a carry does with its piece.
func (t *Table) way(s carry.Step) Way {
	var from, to frame.Spot[frame.Board]
	if n := len(s.PiecePath); n > 0 {
		from, to = s.PiecePath[0], s.PiecePath[n-1]
	}
	w := Way{s.Piece, t.placeOf(s.From, from), t.placeOf(s.To, to)}
	if w.From < 0 {
		w.From = t.began(s, w.From)
	}
	return w
}

// began is where a piece began its way that strayed and is fetched from no
// place at all, or the place given where that is not known.
func (t *Table) began(s carry.Step, otherwise Place) Place {
	if w := t.now.Way; w != nil && w.Piece == s.Piece {
		return w.From
	}
	if m := t.decided; m != 0 && s.To == m.To() {
		pos := t.game.Position()
		if s.Piece == pos.At(m.From()) {
			return Place(m.From())
		}
	}
	return otherwise
}

// byHand follows what a person does with one piece.
func (t *Table) byHand(a carry.Step) {
	if a.From < chess.NoSquare {
		t.s.Suspects.handed(t, a.Piece, Place(a.From))
	}
	switch {
	case a.From == a.To:
	case a.From < chess.NoSquare && a.To < chess.NoSquare:
		t.move(a.Piece, Place(a.From), Place(a.To))
	case a.From < chess.NoSquare:
		t.move(a.Piece, Place(a.From), Person)
	default:
		t.move(a.Piece, t.now.supply(a.Piece, a.To, t.slotAway), Place(a.To))
	}
}

// slotAway is how far slot k is from a square, m.
func (t *Table) slotAway(k int, q chess.Square) float64 {
	if k < 0 || k >= len(t.s.Slots) {
		return math.Inf(1)
	}
	return t.s.Slots[k].Distance(t.centre(q))
}

// settleMen brings the pieces beside the board up to date with a finished move.
func (t *Table) settlePieces(pos chess.Position, m chess.Move) {
	after := pos.After(m)
	switch {
	case pos.SideToMove() != t.s.Machine:
		t.now.Board = standing(pos)
		t.guestMoved(pos, m)
	case t.now.Way != nil: // somebody says that it has arrived
		t.move(t.now.Way.Piece, t.now.Way.From, t.now.Way.To)
	default:
		t.renameByHand(pos, m)
	}
	t.now.Way = nil
	t.now.agree(standing(after), t.number)
	t.number = t.now.count()
	t.offered = Person
}

// guestMoved follows a move of the guest: a piece taken goes where the guest was
// told, a pawn that is exchanged to the guest.
func (t *Table) guestMoved(pos chess.Position, m chess.Move) {
	if victim, at := pos.Captured(m); victim != chess.NoPiece {
		to := Person
		if t.s.Carried[victim.Color()] {
			to = t.offered
		}
		t.move(victim, Place(at), to)
	}
	piece := pos.At(m.From())
	if k := m.Promotion(); k != chess.NoKind {
		queen := chess.MakePiece(piece.Color(), k)
		t.move(piece, Place(m.From()), Person)
		t.move(queen, t.now.supply(queen, m.To(), t.slotAway), Place(m.To()))
		return
	}
	t.move(piece, Place(m.From()), Place(m.To()))
	if pos.IsCastling(m) {
		from, to := pos.RookMove(m)
		t.move(pos.At(from), Place(from), Place(to))
	}
}

// differs lists the squares on which the plan so far differs from the game's position.
func (t *Table) differs() []chess.Square {
	pos := t.game.Position()
	var out []chess.Square
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if t.now.Board[q] != pos.At(q) {
			out = append(out, q)
		}
	}
	return out
}

// askStep tells the guest what to do and waits until the picture shows it, or
// a person says that it is done.
func (t *Table) askStep(ctx context.Context, s carry.Step, last bool) error {
	working := t.state
	n := t.askNotice(s, last)
	if err := t.request(ctx, n, Record{What: Requested, Said: s.Text, Piece: s.Piece}); err != nil {
		return err
	}
	if last && t.job.goal != nil { // the goal is waited for anyway
		t.state = working
		t.offer()
		return nil
	}
	if err := t.awaitDone(ctx, s, n, last); err != nil {
		return err
	}
	t.claim = known
	if err := t.enter(ctx, to(working, RequestDone)); err != nil {
		return err
	}
	if working != Carrying {
		return nil
	}
	return t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: "Thank you. " + t.carryingSentence()})
}

// awaitDone waits until what was asked for is seen; it tells what else differs,
// once for each sight.
func (t *Table) awaitDone(ctx context.Context, s carry.Step, n notice.Notice, last bool) error {
	var said insistence
	said.isDue(sight.Reading{}) // it has just been said
	for {
		r, err := t.settled(ctx)
		if errors.Is(err, errRight) {
			return nil
		}
		if err != nil {
			return err
		}
		if t.shows(r, s, last) {
			return nil
		}
		if !said.isDue(r) {
			continue
		}
		n.Text = s.Text
		if len(r.Squares) > 0 {
			n.Text = fmt.Sprintf("%s I see a change on %s.", s.Text, list(r.Squares))
		}
		if err := t.tell(ctx, n); err != nil {
			return err
		}
	}
}

// request asks a person for something: r is the record of it.
func (t *Table) request(ctx context.Context, n notice.Notice, r Record) error {
	if err := t.enter(ctx, Turn{Removal, r}); err != nil {
		return err
	}
	return t.tell(ctx, n)
}

func (t *Table) askNotice(s carry.Step, last bool) notice.Notice {
	n := notice.Notice{Kind: notice.PleasePut, Text: s.Text, Piece: s.Piece, Squares: []chess.Square{s.To}, Move: t.decided}
	for _, a := range s.Single() {
		n.Acts = append(n.Acts, notice.Act{Piece: a.Piece, From: a.From, To: a.To})
	}
	switch {
	case len(s.Acts) > 0 || s.From < chess.NoSquare && s.To < chess.NoSquare && s.From != s.To:
		n.Kind, n.FEN, n.Squares = notice.PleaseMend, t.boardFEN(), nil
	case s.To == chess.NoSquare:
		n.Kind, n.Squares = notice.PleaseTake, []chess.Square{s.From}
	case s.From == s.To:
		n.Kind, n.FEN = notice.PleaseMend, t.boardFEN()
	}
	if last && t.decided != 0 && n.Kind != notice.PleaseTake && s.From != s.To {
		after := t.after()
		n.FEN = after.FEN()
	}
	return n
}

// boardFEN is the board as the plan has left it; whose turn it is and the
// rest are of no account to somebody who moves the pieces.
func (t *Table) boardFEN() string { return placement(t.now.Board) + " w - - 0 1" }

// shows says whether the last picture shows what was asked for. The last step
// of a move must show the move itself: a pawn still to be exchanged changes the
// same squares as the queen that replaces it. Before that it is enough that the
// squares asked about look right by themselves.
func (t *Table) shows(r sight.Reading, s carry.Step, last bool) bool {
	switch {
	case len(s.Acts) == 0 && s.From == s.To:
		return t.isStraight(s.To)
	case last && t.decided != 0:
		return r.State == sight.Moved && r.Move == t.decided || t.isBelieved(r)
	}
	want := t.differs()
	if len(want) == len(r.Squares) && covers(want, r.Squares) || len(want) == 0 && r.State == sight.Same {
		return true
	}
	o := t.occupied()
	return o.open() && len(o.differing(t.now.Board)) == 0 && t.isPlain(s)
}

// isPlain says whether all that a step asks for can be told from which side
// stands on which square: no piece is exchanged for another of its side.
func (t *Table) isPlain(s carry.Step) bool {
	pos := t.game.Position()
	for _, a := range s.Single() {
		if a.To < chess.NoSquare && a.From >= chess.NoSquare && pos.At(a.To) != chess.NoPiece && pos.At(a.To).Color() == a.Piece.Color() {
			return false
		}
	}
	return true
}

// after is the position once the decided move is finished.
func (t *Table) after() chess.Position {
	pos := t.game.Position()
	return pos.After(t.decided)
}
