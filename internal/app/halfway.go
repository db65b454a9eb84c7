package app

import (
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table"
)

// halfway is how far a board has got on the way to a legal move.
type halfway struct {
	move chess.Move   // zero: no move, or more than one, explains the board
	left []notice.Act // what is still to be done for it; empty: it is done
	some bool         // at least one move explains the board
}

// halfwayTo finds the legal move that a board is on the way to. Moves that
// differ only in what a pawn becomes count as one.
func halfwayTo(pos chess.Position, now board) halfway {
	start := table.StandingOf(pos).Board
	var out halfway
	for _, m := range pos.LegalMoves(nil) {
		end := table.StandingOf(pos.After(m)).Board
		if now == end {
			return halfway{move: m, some: true}
		}
		if now == start || !between(now, start, end, m) {
			continue
		}
		switch first := out.move; {
		case !out.some:
			out = halfway{move: m, left: acts(now, end), some: true}
		case first.From() != m.From() || first.To() != m.To():
			out.move, out.left = 0, nil
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
