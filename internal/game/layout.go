// SPDX-License-Identifier: Apache-2.0

package game

// Layout tells what stands on each square: a position, whatever else the rules
// of its game keep.
type Layout interface {
	At(Square) Piece
}

// Setting is a plain Layout: what stands on each square.
type Setting [NoSquare]Piece

// At is the piece on s; NoPiece beside the board.
func (b *Setting) At(s Square) Piece {
	if s >= NoSquare {
		return NoPiece
	}
	return b[s]
}

// Do carries out acts on the squares alone.
func (b *Setting) Do(acts []Act) {
	for _, a := range acts {
		if a.From < NoSquare {
			b[a.From] = NoPiece
		}
		if a.To < NoSquare {
			b[a.To] = a.Piece
		}
	}
}
