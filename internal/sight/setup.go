// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"fmt"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight/silhouette"
)

// Setup is what the reader is told beforehand: the board, the pieces and about
// where the camera hangs.
type Setup struct {
	Square float64                          // side of a square, metres
	Border float64                          // margin around the field, metres
	Pieces [chess.King + 1]silhouette.Shape // by kind
	Image  [2]int                           // pixels, width and height
	HFOV   float64                          // nominal full horizontal angle, radians
	Height float64                          // nominal height of the camera over the board, metres
	White  string                           // picture side where White sits: bottom, left, top, right
	View   *optics.View                     // the true lens and pose when known; nil: found in the first picture
	Slots  []frame.Spot[frame.Board]        // where pieces may stand beside the field, metres; nil: nowhere
}

// SetupFrom takes the reader's part out of a rig.
func SetupFrom(r *rig.Rig) (Setup, error) {
	c := r.Camera
	s := Setup{Square: float64(r.Board.Square), Border: float64(r.Board.Border), Image: c.Image,
		HFOV: float64(c.HFOV), Height: float64(c.Height), White: c.WhiteSide}
	for kind, piece := range map[chess.Kind]rig.Piece{
		chess.King: r.Pieces.King, chess.Queen: r.Pieces.Queen, chess.Bishop: r.Pieces.Bishop,
		chess.Knight: r.Pieces.Knight, chess.Rook: r.Pieces.Rook, chess.Pawn: r.Pieces.Pawn,
	} {
		s.Pieces[kind] = silhouette.Shape{Height: float64(piece.Height), Base: float64(piece.Base)}
	}
	return s, s.check()
}

// check refuses setups no picture could be read with.
func (s Setup) check() error {
	if !(s.Square > 0) {
		return fmt.Errorf("board.square must be positive; got %g mm", s.Square*1e3)
	}
	if s.Image[0] < 64 || s.Image[1] < 64 {
		return fmt.Errorf("camera.image must be at least 64 × 64 pixels; got %d × %d", s.Image[0], s.Image[1])
	}
	for k := chess.Pawn; k <= chess.King; k++ {
		if m := s.Pieces[k]; !(m.Height > 0 && m.Base > 0 && m.Base < 2*s.Square) {
			return fmt.Errorf("pieces.%s needs a height and a base smaller than two squares; got %g mm, %g mm", k, m.Height*1e3, m.Base*1e3)
		}
	}
	_, err := optics.Nominal(s.Image, s.HFOV, s.Height, s.White)
	return err
}

// centre is the middle of a square, board frame.
func (s Setup) centre(q chess.Square) frame.Spot[frame.Board] {
	return frame.Spot[frame.Board]{X: (float64(q.File()) - 3.5) * s.Square, Y: (float64(q.Rank()) - 3.5) * s.Square}
}

// aside is how far from the middle of a square a place lies along the sides,
// as a share of the square: 0.5 on its line.
func (s Setup) aside(q chess.Square, at frame.Spot[frame.Board]) float64 {
	d := at.Sub(s.centre(q))
	return math.Max(math.Abs(d.X), math.Abs(d.Y)) / s.Square
}

// field is half the side of the playing field.
func (s Setup) field() float64 { return 4 * s.Square }
