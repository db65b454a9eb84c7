// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/optics"
	"boardhand/internal/sight/silhouette"
)

// Shapes are heights and bases by kind.
type Shapes = game.ByKind[silhouette.Shape]

// Setup is what the reader is told beforehand: the board, the pieces and about
// where the camera hangs.
type Setup struct {
	Square float64                   // side of a square, metres
	Border float64                   // margin around the field, metres
	Pieces Shapes                    // by kind
	Image  [2]int                    // pixels, width and height
	HFOV   float64                   // nominal full horizontal angle, radians
	Height float64                   // nominal height of the camera over the board, metres
	White  string                    // picture side where White sits: bottom, left, top, right
	Seen   *optics.View              // lens as measured, and where the camera hung; nil: not measured
	View   *optics.View              // the true lens and pose when known; nil: found in the first picture
	Slots  []frame.Spot[frame.Board] // where pieces may stand beside the field, metres; nil: nowhere
}

// IsWhole says whether a setup leaves nothing to be found in the first picture.
func (s Setup) IsWhole() bool {
	return s.Image != [2]int{} && s.HFOV != 0 && s.Height != 0 && s.White != "" && s.Border != 0 && s.HasPieces()
}

// kinds are those of the pieces that the reader knows.
func (s Setup) kinds() []game.Kind { return chess.Kinds.All() }

// HasPieces says whether a setup has the measures of all kinds.
func (s Setup) HasPieces() bool {
	for _, k := range s.kinds() {
		if s.Pieces[k].Height == 0 || s.Pieces[k].Base == 0 {
			return false
		}
	}
	return true
}

// CheckSaid refuses setups that no picture could complete; what is zero is not said.
func (s Setup) CheckSaid() error {
	if s.IsWhole() {
		return s.Check()
	}
	for _, k := range s.kinds() {
		if m := s.Pieces[k]; m.Height < 0 || m.Base < 0 || m.Base >= 2*s.Square && m.Base > 0 {
			return fmt.Errorf("pieces.%s needs a height and a base smaller than two squares; got %g mm, %g mm", k, m.Height*1e3, m.Base*1e3)
		}
	}
	if !(s.Square > 0) {
		return fmt.Errorf("board.square must be positive; got %g mm", s.Square*1e3)
	}
	return nil
}

// Check refuses setups no picture could be read with.
func (s Setup) Check() error {
	if !(s.Square > 0) {
		return fmt.Errorf("board.square must be positive; got %g mm", s.Square*1e3)
	}
	if s.Image[0] < 64 || s.Image[1] < 64 {
		return fmt.Errorf("camera.image must be at least 64 × 64 pixels; got %d × %d", s.Image[0], s.Image[1])
	}
	for _, k := range s.kinds() {
		if m := s.Pieces[k]; !(m.Height > 0 && m.Base > 0 && m.Base < 2*s.Square) {
			return fmt.Errorf("pieces.%s needs a height and a base smaller than two squares; got %g mm, %g mm", k, m.Height*1e3, m.Base*1e3)
		}
	}
	_, err := optics.Nominal(s.Image, s.HFOV, s.Height, s.White)
	return err
}
