// SPDX-License-Identifier: Apache-2.0

package evidence

import "boardhand/internal/chess"

// Moved finds the one piece of a side that plainly stands on another square than a board
// says, squares that are left out aside; false where none does, or more than one. Near the
// carriage, whose own piece hides what is beside it, a square counts only as the one that
// was left, and where no other was.
func (o *Squares) Moved(board [64]chess.Piece, side chess.Color, isOut, isNear func(chess.Square) bool) (from, to chess.Square, ok bool) {
	var left, near, come []chess.Square
	for _, q := range o.Differing(board) {
		p := board[q]
		isSide := p != chess.NoPiece && p.Color() == side
		switch {
		case isOut(q):
		case isNear(q) && isSide:
			near = append(near, q)
		case isNear(q):
		case p == chess.NoPiece && o[q].Side == side:
			come = append(come, q)
		case isSide:
			left = append(left, q)
		default: // another matter
			return 0, 0, false
		}
	}
	if len(left) == 0 {
		left = near
	}
	if len(left) != 1 || len(come) != 1 {
		return 0, 0, false
	}
	return left[0], come[0], true
}
