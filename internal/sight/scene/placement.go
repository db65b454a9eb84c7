// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// Placement is a piece at a place on the board, with the pixels it covers.
type Placement struct {
	Piece  chess.Piece
	Square chess.Square
	At     frame.Spot[frame.Board]
	Reach  float64 // from the camera's foot point: nearer pieces hide farther ones
	Sigma  float64 // of each coordinate of at, metres
	Covers []silhouette.Cover
	Nudged *frame.Spot[frame.Board] // where it stood in the remembered picture, if it was only nudged
	Shift  [2]float32               // and how far its picture moved since, image pixels
	Relit  bool                     // it stands where it stood, in another light
	Plain  bool                     // it was plainly touched, so that its side's colours may speak for it
	Lies   bool                     // it has fallen: at is its base's middle all the same
}

// stand puts a piece on the board.
func stand(g *pixels.Plane, s *silhouette.Outlines, piece chess.Piece, at frame.Spot[frame.Board]) Placement {
	m := Placement{Piece: piece, At: at}
	m.Covers, m.Reach = s.Cover(g, piece.Kind(), at)
	return m
}

// Mark marks the pixels that show a piece more surely than some share.
func (m *Placement) Mark(on []bool, share float32) {
	for _, c := range m.Covers {
		if c.Alpha > share {
			on[c.Pixel] = true
		}
	}
}
