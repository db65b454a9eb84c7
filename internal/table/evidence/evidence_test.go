// SPDX-License-Identifier: Apache-2.0

package evidence

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// looking is what squares show that leave no doubt of a board.
func looking(board [64]chess.Piece) *Squares {
	var o Squares
	for q, p := range board {
		o[q] = sight.Presence{Open: true, Sure: 0.5, Belief: 0.001}
		if p != chess.NoPiece {
			o[q].Belief, o[q].Side, o[q].Sure = 0.999, p.Color(), 0.999
		}
	}
	return &o
}

func played(t *testing.T, moves ...string) (pos chess.Position, out []chess.Move) {
	t.Helper()
	pos = chess.Start()
	for _, text := range moves {
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		pos, out = pos.After(m), append(out, m)
	}
	return pos, out
}

// The lead of one square is one number, by odds and in nats.
func TestSureOddsAreSureNats(t *testing.T) {
	if math.Abs(math.Log(sureOdds)-sureNats) > 1e-12 {
		t.Errorf("odds of %d are %.4f nats, not %.4f", sureOdds, math.Log(sureOdds), sureNats)
	}
}

// Squares prove the board they show, and no other; one that is hidden proves nothing.
func TestSquaresProveTheirBoard(t *testing.T) {
	start, _ := played(t)
	after, m := played(t, "e2e4")
	o := looking(places.BoardOf(after))
	if !o.Proves(places.BoardOf(after)) || o.Proves(places.BoardOf(start)) {
		t.Error("the squares do not tell the board before a move from the one after it")
	}
	if got := o.Differing(places.BoardOf(start)); !slices.Equal(got, []chess.Square{m[0].From(), m[0].To()}) {
		t.Errorf("the start differs on %v", got)
	}
	if got := o.DifferingBoth(places.BoardOf(start), places.BoardOf(after)); len(got) > 0 {
		t.Errorf("%v look like neither board", got)
	}
	o[40].Open = false
	if o.IsOpen() || o.Proves(places.BoardOf(after)) {
		t.Error("a hidden square proves a board")
	}
}

// Up to two plies are found that explain the squares, with their lead.
func TestPliesAreExplained(t *testing.T) {
	start, _ := played(t)
	for _, moves := range [][]string{nil, {"e2e4"}, {"g1f3", "g8f6"}} {
		after, want := played(t, moves...)
		got, lead := looking(places.BoardOf(after)).Explained(start)
		if !slices.Equal(got, want) || lead < sureNats {
			t.Errorf("after %v the squares are explained by %v, %.1f nats ahead", moves, got, lead)
		}
	}
}

// A move half made is a board between the one before it and the one after it.
func TestBoardBetween(t *testing.T) {
	pos, err := chess.ParseFEN("4k3/8/8/8/8/8/8/4K2R w K - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("e1g1")
	if err != nil {
		t.Fatal(err)
	}
	before, after := places.BoardOf(pos), places.BoardOf(pos.After(m))
	half := before
	half[m.From()], half[m.To()] = chess.NoPiece, after[m.To()]
	of := places.Touched(pos, m)
	if got, ok := looking(half).Between(before, after, of); !ok || got != half {
		t.Errorf("castling half made: %v", ok)
	}
	for _, whole := range [][64]chess.Piece{before, after} {
		if _, ok := looking(whole).Between(before, after, of); ok {
			t.Error("a whole board is called one between")
		}
	}
	half[chess.SquareAt(0, 3)] = chess.MakePiece(chess.Black, chess.Pawn)
	if _, ok := looking(half).Between(before, after, of); ok {
		t.Error("a piece that has no part in the move is passed over")
	}
}

// A place is vacant, or taken, only where that is plain.
func TestPlacesThatAreVacantOrTaken(t *testing.T) {
	pawn := chess.MakePiece(chess.White, chess.Pawn)
	full := sight.Presence{Open: true, Belief: 0.999, Side: chess.White, Sure: 0.999}
	none := sight.Presence{Open: true, Belief: 0.001, Sure: 0.5}
	unclear := sight.Presence{Open: true, Belief: 0.5, Side: chess.White, Sure: 0.9}
	for _, c := range []struct {
		seen                sight.Presence
		vacant, taken, isIt bool
	}{{full, false, true, true}, {none, true, false, false}, {unclear, false, false, false}, {sight.Presence{}, false, false, false}} {
		if IsVacant(c.seen, pawn) != c.vacant || IsTaken(c.seen) != c.taken || IsOf(c.seen, pawn) != c.isIt {
			t.Errorf("%+v: vacant %v, taken %v, the pawn %v", c.seen, IsVacant(c.seen, pawn), IsTaken(c.seen), IsOf(c.seen, pawn))
		}
	}
}
