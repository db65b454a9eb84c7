// SPDX-License-Identifier: Apache-2.0

package model

import (
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/table/places"
)

// Move brings a piece from one place to another, in the standing and by name.
func (b *Model) Move(piece chess.Piece, from, to places.Place) {
	delete(b.Vouched, from)
	b.Now.Move(piece, from, to)
	b.Names.Follow(from, to)
}

// Way is what a carry does with its piece.
func (b *Model) Way(s plan.Step) places.Way {
	var from, to frame.Spot[frame.Board]
	if n := len(s.PiecePath); n > 0 {
		from, to = s.PiecePath[0], s.PiecePath[n-1]
	}
	w := places.Way{Piece: s.Piece, From: b.Layout.PlaceOf(s.From, from), To: b.Layout.PlaceOf(s.To, to)}
	if w.From < 0 {
		w.From = b.began(s, w.From)
	}
	return w
}

// began is where a piece began its way that strayed and is fetched from no
// place at all, or the place given where that is not known.
func (b *Model) began(s plan.Step, otherwise places.Place) places.Place {
	if w := b.Now.Way; w != nil && w.Piece == s.Piece {
		return w.From
	}
	if m := b.Decided; m != 0 && s.To == m.To() {
		pos := b.Game.Position()
		if s.Piece == pos.At(m.From()) {
			return places.Place(m.From())
		}
	}
	return otherwise
}

// ByHand follows what a person does with one piece; one that is taken off stays
// with them.
func (b *Model) ByHand(a plan.Step) {
	if a.From != a.To {
		b.follow(game.Act{Piece: a.Piece, From: a.From, To: a.To}, places.Person)
	}
}

// follow follows an act; off is where a piece goes that is taken off the board.
// One that is put on comes from wherever there is one.
func (b *Model) follow(a game.Act, off places.Place) {
	from, to := places.Place(a.From), places.Place(a.To)
	if a.From >= chess.NoSquare {
		from = b.Now.Supply(a.Piece, a.To, b.Layout.SlotAway)
	}
	if a.To >= chess.NoSquare {
		to = off
	}
	b.Move(a.Piece, from, to)
}

// Settle brings the pieces on and beside the board up to date with a finished
// move of the game's position.
func (b *Model) Settle(m chess.Move) {
	pos := b.Game.Position()
	after := pos.After(m)
	switch {
	case pos.SideToMove() != b.Side:
		b.Now.Board = places.BoardOf(pos)
		b.guestMoved(pos, m)
	case b.Now.Way != nil: // somebody says that it has arrived
		b.Move(b.Now.Way.Piece, b.Now.Way.From, b.Now.Way.To)
	default:
		b.RenameByHand(m)
	}
	b.Agree(after)
	b.Now.Offered = 0
}

// guestMoved follows a move of the guest: a piece taken goes where the guest was
// told, a pawn that is exchanged to the guest.
func (b *Model) guestMoved(pos chess.Position, m chess.Move) {
	for _, a := range pos.Acts(m) {
		off := places.Person
		if a.Piece.Color() != pos.SideToMove() && b.Carried[a.Piece.Color()] && b.Now.Offered >= places.Slot {
			off = b.Now.Offered
		}
		b.follow(a, off)
	}
}

// RenameByHand lets the names of the pieces of the machine's own move follow
// where a person made it: they are still noted where they stood.
func (b *Model) RenameByHand(m chess.Move) {
	pos := b.Game.Position()
	for _, a := range pos.Acts(m) {
		if a.From < chess.NoSquare && a.To < chess.NoSquare && b.Now.Board[a.From] == pos.At(a.From) {
			b.Names.Follow(places.Place(a.From), places.Place(a.To))
		}
	}
}

// Underway is the way of the piece that was carried last, when nobody has seen it
// arrive yet.
func (b *Model) Underway() (places.Way, bool) {
	if b.Now.Way != nil {
		return *b.Now.Way, true
	}
	from, to := places.Place(b.Decided.From()), places.Place(b.Decided.To())
	if b.Decided == 0 || b.Now.Board[from] != chess.NoPiece || b.Now.Board[to] == chess.NoPiece {
		return places.Way{}, false
	}
	return places.Way{Piece: b.Now.Board[to], From: from, To: to}, true
}

// StayedBehind notes that the piece of the machine's move did not come along,
// and says which and where it stands. isBack says that the one which was taken stands on
// its square again: it was brought back there.
func (b *Model) StayedBehind(isBack bool) (chess.Piece, places.Place) {
	pos := b.Game.Position()
	piece, from := b.unmoved(pos)
	victim, at := pos.Captured(b.Decided)
	for _, m := range slices.Backward(b.Now.Beside) {
		if isBack && m.Piece == victim && b.Now.Board[at] == chess.NoPiece {
			b.Move(victim, m.Place, places.Place(at))
		}
	}
	b.Now.Board = places.BoardOf(pos)
	return piece, from
}

// unmoved notes that the piece of the machine's move is not at its goal.
func (b *Model) unmoved(pos chess.Position) (chess.Piece, places.Place) {
	from, to := places.Place(b.Decided.From()), places.Place(b.Decided.To())
	piece := pos.At(b.Decided.From())
	if b.Now.Board[to] == piece {
		b.Move(piece, to, from)
	}
	return piece, from
}

// Slipped notes that the piece of the machine's move slipped on the way, and
// says which way it was to go; a piece that it takes was taken off before.
func (b *Model) Slipped() places.Way {
	pos := b.Game.Position()
	piece, from := b.unmoved(pos)
	return places.Way{Piece: piece, From: from, To: places.Place(b.Decided.To())}
}
