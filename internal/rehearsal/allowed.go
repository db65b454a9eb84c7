// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// Allowance is what may stand on the table: on each square what one of some
// boards has there, a square on which they differ may be empty, and one of some
// pieces may be anywhere, on its way.
type Allowance struct {
	boards []board
	movers []chess.Piece
}

// board is which piece stands on each square.
type board = [64]chess.Piece

// At allows the pieces of a position only.
func At(pos chess.Position) Allowance {
	return Allowance{boards: []board{places.StandingOf(pos).Board}}
}

// InMove allows a move of the machine to be half made.
func InMove(pos chess.Position, m chess.Move) Allowance {
	a := Allowance{boards: []board{places.StandingOf(pos).Board, places.StandingOf(pos.After(m)).Board}}
	for q, p := range a.boards[0] {
		if p != a.boards[1][q] && p != chess.NoPiece {
			a.movers = append(a.movers, p)
		}
	}
	return a
}

// GuestsMoves allows the guest to be at any legal move.
func GuestsMoves(pos chess.Position) (out []Allowance) {
	for _, m := range pos.LegalMoves(nil) {
		out = append(out, Allowance{boards: []board{places.StandingOf(pos).Board, places.StandingOf(pos.After(m)).Board}})
	}
	return out
}

// Differing lists what the table has that none of some allowances has; by the
// one that fits best. What the guest has played before its turn is no part of the game yet.
func Differing(truth twin.Truth, allowed []Allowance) []string {
	best := leastWrong(truth, allowed)
	if m := truth.Early; len(best) > 0 && m != 0 {
		s := &truth.Squares
		s[m.From()], s[m.To()] = s[m.To()], s[m.From()]
		if wrong := leastWrong(truth, allowed); len(wrong) < len(best) {
			return wrong
		}
	}
	return best
}

// leastWrong is what the table has otherwise than the allowance that fits it best.
func leastWrong(truth twin.Truth, allowed []Allowance) []string {
	var best []string
	for i, a := range allowed {
		wrong := a.differing(truth)
		if len(wrong) == 0 {
			return nil
		}
		if i == 0 || len(wrong) < len(best) {
			best = wrong
		}
	}
	return best
}

func (a Allowance) differing(truth twin.Truth) (out []string) {
	held, movers := truth.InHand, a.movers
	for q, is := range truth.Squares {
		if a.has(chess.Square(q), is) {
			continue
		}
		want := a.boards[0][q]
		if is == chess.NoPiece && want != chess.NoPiece && want == held {
			held = chess.NoPiece
		} else if slices.Contains(movers, is) {
			movers = nil // one at most
		} else {
			out = append(out, fmt.Sprintf("%v holds %v, the game says %v", chess.Square(q), is, want))
		}
	}
	return out
}

// has says whether a piece may be on a square.
func (a Allowance) has(q chess.Square, p chess.Piece) bool {
	isOpen := false
	for _, b := range a.boards {
		if b[q] == p {
			return true
		}
		isOpen = isOpen || b[q] != a.boards[0][q]
	}
	return isOpen && p == chess.NoPiece
}

// GoingOn are the boards from which a game can be gone on with.
func GoingOn(past journal.Past, machine chess.Color) []Allowance {
	pos := past.Game.Position()
	at := At(pos)
	switch n := len(past.Game.Moves); {
	case past.Task.Kind == journal.SetUp:
		return nil
	case past.Task.Kind == journal.TakeBack && n > 0:
		before := past.Game.Before()
		undone := InMove(before, past.Game.Moves[n-1])
		out := []Allowance{undone}
		for _, g := range GuestsMoves(pos) { // which they had begun
			out = append(out, Allowance{append(g.boards, undone.boards...), undone.movers})
		}
		return out
	case pos.SideToMove() != machine:
		return append(GuestsMoves(pos), at)
	case past.Decided != 0:
		return []Allowance{InMove(pos, past.Decided)}
	}
	return []Allowance{at}
}
