// SPDX-License-Identifier: Apache-2.0

package host

import (
	"fmt"
	"maps"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
)

// board is which piece stands on each square.
type board = [64]chess.Piece

// changed is one square as the visitor's hand has left it.
type changed struct {
	now chess.Piece // what stands there
	was chess.Piece // what the table had there when the hand came
}

// hand is what the visitor's hand has done and the table has not taken in yet.
// The machine has to find it out from its pictures; the page need not wait.
type hand struct {
	squares map[chess.Square]changed
	atWork  bool         // what it does comes after all that the table has seen
	offer   places.Place // the slot for the machine's piece that is taken next; Person: none
	slotted chess.Piece  // the one that stands in slot
	slot    places.Place
}

func newHand() *hand {
	return &hand{squares: map[chess.Square]changed{}, offer: places.Person}
}

// board is where the pieces stand, given where the table has them.
func (h *hand) board(s places.Standing) board {
	b := s.Board
	for q, c := range h.squares {
		b[q] = c.now
	}
	return b
}

// set notes what stands on a square now.
func (h *hand) set(s places.Standing, q chess.Square, p chess.Piece) {
	was := s.Board[q]
	if c, ok := h.squares[q]; ok {
		was = c.was
	}
	h.squares[q] = changed{now: p, was: was}
	h.agree(s)
}

// agree forgets the squares on which the table has come to the same view, and
// those on which something else has happened since. While the hand is at work
// nothing is forgotten: the table speaks of pictures from before.
func (h *hand) agree(s places.Standing) {
	if h.atWork {
		return
	}
	for q, c := range h.squares {
		if s.Board[q] == c.now || s.Board[q] != c.was {
			delete(h.squares, q)
		}
	}
	if len(h.squares) == 0 {
		h.slotted = chess.NoPiece
	}
}

// rest notes that the hand has done all it was told: what the table finds from
// now on is later.
func (h *hand) rest(s places.Standing) {
	h.atWork = false
	for q, c := range h.squares {
		h.squares[q] = changed{now: c.now, was: s.Board[q]}
	}
	h.agree(s)
}

// yield forgets that the hand has emptied a square, now that the carriage brings a
// piece there: a picture had to show it empty first, and what comes is later.
func (h *hand) yield(to chess.Square) {
	if c, ok := h.squares[to]; ok && c.now == chess.NoPiece {
		delete(h.squares, to)
	}
}

// give forgets that the hand has put a piece on a square, now that the carriage takes
// it from there: a picture had to show it there, and what comes is later.
func (h *hand) give(p chess.Piece, isThere func(chess.Square) bool) {
	maps.DeleteFunc(h.squares, func(q chess.Square, c changed) bool { return c.now == p && isThere(q) })
}

// snapshot is the hand as it is now, to go back to.
func (h *hand) snapshot() hand {
	c := *h
	c.squares = maps.Clone(h.squares)
	return c
}

// undo goes back to what the hand had done before acts that came to nothing. What the
// carriage has brought or taken since is not brought back.
func (h *hand) undo(to hand) {
	maps.DeleteFunc(to.squares, func(q chess.Square, _ changed) bool { _, is := h.squares[q]; return !is })
	to.atWork = h.atWork
	*h = to
}

// move brings a piece from one square to another; one that stands there goes off.
func (h *hand) move(s places.Standing, from, to chess.Square) error {
	p := h.board(s)[from]
	if p == chess.NoPiece {
		return fmt.Errorf("no piece stands on %s", from)
	}
	if to == chess.NoSquare {
		h.takeOff(p)
	} else {
		h.takeOff(h.board(s)[to])
		h.set(s, to, p)
	}
	h.set(s, from, chess.NoPiece)
	return nil
}

// takeOff notes that one of the machine's pieces goes into the slot offered.
func (h *hand) takeOff(p chess.Piece) {
	if p != chess.NoPiece && h.offer >= places.Slot {
		h.slotted, h.slot, h.offer = p, h.offer, places.Person
	}
}

// put stands a piece from beside the board on a square.
func (h *hand) put(s places.Standing, p chess.Piece, on chess.Square) { h.set(s, on, p) }

// arrange sets the pieces as on another board.
func (h *hand) arrange(s places.Standing, goal board) {
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if h.board(s)[q] != goal[q] {
			h.set(s, q, goal[q])
		}
	}
}

// standing is where all pieces are: those missing on the board are beside it,
// those too many came from there.
func (h *hand) standing(s places.Standing) places.Standing {
	out := places.Standing{Board: h.board(s), Beside: slices.Clone(s.Beside)}
	missing := map[chess.Piece]int{}
	for q := range out.Board {
		missing[s.Board[q]]++
		missing[out.Board[q]]--
	}
	delete(missing, chess.NoPiece)
	for _, c := range []chess.Color{chess.White, chess.Black} {
		for _, k := range chess.Kinds.Ascending() {
			out.Beside = besideBy(out.Beside, h.asideOf(chess.MakePiece(c, k)), missing[chess.MakePiece(c, k)])
		}
	}
	return out
}

// asideOf is where a piece of that kind stands once the hand has taken it off.
func (h *hand) asideOf(p chess.Piece) places.Beside {
	if p == h.slotted {
		return places.Beside{Piece: p, Place: h.slot}
	}
	return places.Beside{Piece: p, Place: places.Person}
}

// besideBy adds n pieces to those beside the board, or takes −n of their kind away.
func besideBy(all []places.Beside, one places.Beside, n int) []places.Beside {
	for ; n > 0; n-- {
		all = append(all, one)
		one.Place = places.Person
	}
	for ; n < 0; n++ {
		if i := slices.IndexFunc(all, func(b places.Beside) bool { return b.Piece == one.Piece }); i >= 0 {
			all = slices.Delete(all, i, i+1)
		}
	}
	return all
}

// Acts are what it takes to get from one board to another, one piece each: those
// that stand elsewhere first, then those that go off, then those that come on.
func Acts(from, to board) (out []notice.Act) {
	lacking := func(p chess.Piece) chess.Square {
		for q := chess.Square(0); q < chess.NoSquare; q++ {
			if to[q] == p && from[q] != p && !slices.ContainsFunc(out, func(a notice.Act) bool { return a.To == q }) {
				return q
			}
		}
		return chess.NoSquare
	}
	var off, on []notice.Act
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if p := from[q]; p != chess.NoPiece && p != to[q] {
			if at := lacking(p); at != chess.NoSquare {
				out = append(out, notice.Act{Piece: p, From: q, To: at})
			} else {
				off = append(off, notice.Act{Piece: p, From: q, To: chess.NoSquare})
			}
		}
	}
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		done := slices.ContainsFunc(out, func(a notice.Act) bool { return a.To == q })
		if p := to[q]; p != chess.NoPiece && p != from[q] && !done {
			on = append(on, notice.Act{Piece: p, From: chess.NoSquare, To: q})
		}
	}
	return slices.Concat(out, off, on)
}
