// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/scene"
)

// No piece stands in another: what is seen there is the other one, or lies on it. A knight
// that had fallen over a pawn was sought, and the pawn was found in its stead.
func TestNoRoomInAnotherPiece(t *testing.T) {
	s := scene.Setup{Square: 0.04}
	knight, pawn := chess.MakePiece(chess.Black, chess.Knight), chess.MakePiece(chess.Black, chess.Pawn)
	s.Pieces[chess.Knight].Base, s.Pieces[chess.Pawn].Base = 0.018, 0.014
	stands := []scene.Placement{{Piece: pawn, At: frame.Spot[frame.Board]{X: 0.1, Y: 0.1}}, {Piece: pawn, At: frame.Spot[frame.Board]{X: 0.02}}}
	for _, c := range []struct {
		at   frame.Spot[frame.Board]
		gone []bool
		want bool
	}{
		{frame.Spot[frame.Board]{X: 0.0985, Y: 0.0954}, []bool{false, false}, false},
		{frame.Spot[frame.Board]{X: 0.0985, Y: 0.0954}, []bool{true, false}, true},
		{frame.Spot[frame.Board]{X: 0.1, Y: 0.084}, []bool{false, false}, true}, // it touches
		{frame.Spot[frame.Board]{X: 0.06, Y: 0.06}, []bool{false, false}, true},
	} {
		if got := hasRoom(&s, stands, c.gone, scene.Placement{Piece: knight, At: c.at}); got != c.want {
			t.Errorf("at %v, gone %v: room %v", c.at, c.gone, got)
		}
	}
}
