// SPDX-License-Identifier: Apache-2.0

package evidence

import "boardhand/internal/chess"

// Moved finds the one piece of a side that plainly stands on another square than a board
// says, squares that are left out aside; false where none does, or more than one.
func (o *Squares) Moved(board [64]chess.Piece, side chess.Color, isOut func(chess.Square) bool) (from, to chess.Square, ok bool) {
	var left, come []chess.Square
	for _, q := range o.Differing(board) {
		switch p := board[q]; {
		case isOut(q):
		case p == chess.NoPiece && o[q].Side == side:
			come = append(come, q)
		case p != chess.NoPiece && p.Color() == side:
			left = append(left, q)
		default: // another matter
			return 0, 0, false
		}
	}
	if len(left) != 1 || len(come) != 1 {
		return 0, 0, false
	}
	return left[0], come[0], true
}
