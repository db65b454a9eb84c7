// SPDX-License-Identifier: Apache-2.0

package plan

import (
	"boardhand/internal/frame"
	"boardhand/internal/game"
)

// Piece is one piece as it stands now.
type Piece struct {
	Piece  game.Piece
	Square game.Square             // NoSquare when beside the board
	At     frame.Spot[frame.Board] // measured centre of the base
	Sigma  float64                 // standard deviation of At per coordinate, metres
	Magnet bool                    // its base holds a magnet
	Base   float64                 // diameter of the base, metres
}

// Scene is everything that stands on and beside the board.
type Scene struct {
	Pieces   []Piece
	Carriage frame.Spot[frame.Board]   // where the magnet's axis is now
	Closed   []frame.Spot[frame.Board] // slots of the tray in which nothing more finds room
}

// Held is the piece that a carry takes along, as an index, or −1: the nearest
// of its kind to where the carry begins.
func (s Scene) Held(carry Step) int {
	held := -1
	for k, m := range s.Pieces {
		if m.Piece == carry.Piece && (held < 0 || m.At.Distance(carry.PiecePath[0]) < s.Pieces[held].At.Distance(carry.PiecePath[0])) {
			held = k
		}
	}
	return held
}
