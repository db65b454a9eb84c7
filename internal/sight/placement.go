// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// standing is a piece at a place on the board, with the pixels it covers.
type standing struct {
	piece  chess.Piece
	square chess.Square
	at     frame.Spot[frame.Board]
	reach  float64 // from the camera's foot point: nearer pieces hide farther ones
	sigma  float64 // of each coordinate of at, metres
	covers []silhouette.Cover
	nudged *frame.Spot[frame.Board] // where it stood in the remembered picture, if it was only nudged
	shift  [2]float32               // and how far its picture moved since, plate pixels
	relit  bool                     // it stands where it stood, in another light
	plain  bool                     // it was plainly touched, so that its side's colours may speak for it
}

// stand puts a piece on the board.
func stand(g *pixels.Plane, s *silhouette.Outlines, piece chess.Piece, at frame.Spot[frame.Board]) standing {
	m := standing{piece: piece, at: at}
	m.covers, m.reach = s.Cover(g, piece.Kind(), at)
	return m
}

// shows is how surely a pixel must show a piece to count as its.
const shows = 0.5

// mark marks the pixels that show a piece more surely than some share.
func (m *standing) mark(on []bool, share float32) {
	for _, c := range m.covers {
		if c.Alpha > share {
			on[c.Pixel] = true
		}
	}
}
