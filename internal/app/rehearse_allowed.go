package app

import (
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// allowance is what may stand on the table: on each square what one of some
// boards has there, a square on which they differ may be empty, and one of some
// pieces may be anywhere, on its way.
type allowance struct {
	boards []board
	movers []chess.Piece
}

// inMove allows a move of the machine to be half made.
func inMove(pos chess.Position, m chess.Move) allowance {
	a := allowance{boards: []board{table.StandingOf(pos).Board, table.StandingOf(pos.After(m)).Board}}
	for q, p := range a.boards[0] {
		if p != a.boards[1][q] && p != chess.NoPiece {
			a.movers = append(a.movers, p)
		}
	}
	return a
}

// guestsMoves allows the guest to be at any legal move.
func guestsMoves(pos chess.Position) (out []allowance) {
	for _, m := range pos.LegalMoves(nil) {
		out = append(out, allowance{boards: []board{table.StandingOf(pos).Board, table.StandingOf(pos.After(m)).Board}})
	}
	return out
}

// differing lists what the table has that none of some allowances has; by the
// one that fits best.
func differing(truth twin.Truth, allowed []allowance) []string {
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

func (a allowance) differing(truth twin.Truth) (out []string) {
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
func (a allowance) has(q chess.Square, p chess.Piece) bool {
	isOpen := false
	for _, b := range a.boards {
		if b[q] == p {
			return true
		}
		isOpen = isOpen || b[q] != a.boards[0][q]
	}
	return isOpen && p == chess.NoPiece
}

// goingOn are the boards from which a game can be gone on with.
func goingOn(past table.Past, machine chess.Color) []allowance {
	pos := past.Game.Position()
	at := allowance{boards: []board{table.StandingOf(pos).Board}}
	switch n := len(past.Game.Moves); {
	case past.Task.Kind == table.SetUp:
		return nil
	case past.Task.Kind == table.TakeBack && n > 0:
		before := past.Game.Before()
		undone := inMove(before, past.Game.Moves[n-1])
		out := []allowance{undone}
		for _, g := range guestsMoves(pos) { // which they had begun
			out = append(out, allowance{append(g.boards, undone.boards...), undone.movers})
		}
		return out
	case pos.SideToMove() != machine:
		return append(guestsMoves(pos), at)
	case past.Decided != 0:
		return []allowance{inMove(pos, past.Decided)}
	}
	return []allowance{at}
}
