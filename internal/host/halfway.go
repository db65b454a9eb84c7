// SPDX-License-Identifier: Apache-2.0

package host

import (
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
)

// Halfway is how far a board has got on the way to a legal move.
type Halfway struct {
	Move   chess.Move   // zero: no move, or more than one, explains the board
	Left   []notice.Act // what is still to be done for it; empty: it is done
	IsSome bool         // at least one move explains the board
}

// HalfwayTo finds the legal move that a board is on the way to. Moves that
// differ only in what a pawn becomes count as one.
func HalfwayTo(pos chess.Position, now board) Halfway {
	start := places.StandingOf(pos).Board
	var out Halfway
	for _, m := range pos.LegalMoves(nil) {
		end := places.StandingOf(pos.After(m)).Board
		if now == end {
			return Halfway{Move: m, IsSome: true}
		}
		if now == start || !between(now, start, end, m) {
			continue
		}
		switch first := out.Move; {
		case !out.IsSome:
			out = Halfway{Move: m, Left: Acts(now, end), IsSome: true}
		case first.From() != m.From() || first.To() != m.To():
			out.Move, out.Left = 0, nil
		}
	}
	return out
}

// between says whether a board may be seen while a move is made by hand: each
// square as before or as after it, a piece that is taken lifted already, a pawn
// on its last square and not exchanged yet.
func between(now, start, end board, m chess.Move) bool {
	for q := range now {
		p := now[q]
		switch {
		case p == end[q]:
		case p == start[q]:
		case start[q] != end[q] && p == chess.NoPiece:
		case m.Promotion() != chess.NoKind && chess.Square(q) == m.To() && p == start[m.From()]:
		default:
			return false
		}
	}
	return true
}
