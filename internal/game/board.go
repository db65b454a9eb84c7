// SPDX-License-Identifier: Apache-2.0

package game

import (
	"fmt"

	"boardhand/internal/frame"
)

// MostFiles is the most files and the most ranks a board may have.
const MostFiles = 8

// Board is the field of squares that a game is played on.
type Board struct {
	Files, Ranks int     // 1 to MostFiles
	Square       float64 // side of a square, metres
}

// Check says what is wrong with the board.
func (b Board) Check() error {
	switch {
	case b.Files < 1 || b.Files > MostFiles || b.Ranks < 1 || b.Ranks > MostFiles:
		return fmt.Errorf("a board has 1 to %d files and ranks; got %d × %d", MostFiles, b.Files, b.Ranks)
	case !(b.Square > 0):
		return fmt.Errorf("the side of a square must be more than 0; got %g mm", b.Square*1e3)
	}
	return nil
}

// Has says whether a square is one of the board's.
func (b Board) Has(s Square) bool {
	return s < NoSquare && s.File() < b.Files && s.Rank() < b.Ranks
}

// Squares lists the squares rank by rank, a1 first.
func (b Board) Squares() []Square {
	out := make([]Square, 0, b.Files*b.Ranks)
	for r := range b.Ranks {
		for f := range b.Files {
			out = append(out, SquareAt(f, r))
		}
	}
	return out
}

// Centre is the middle of a square, metres, board frame: the origin is the
// middle of the field.
func (b Board) Centre(s Square) frame.Spot[frame.Board] {
	return frame.Spot[frame.Board]{
		X: (float64(s.File()) - float64(b.Files-1)/2) * b.Square,
		Y: (float64(s.Rank()) - float64(b.Ranks-1)/2) * b.Square,
	}
}

// Half is half the field's extent along x and y, metres.
func (b Board) Half() (x, y float64) {
	return float64(b.Files) / 2 * b.Square, float64(b.Ranks) / 2 * b.Square
}
