// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight/locate"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// SetupFrom takes the reader's part out of a rig, whose pieces must be those of chess.
func SetupFrom(r *rig.Rig) (scene.Setup, error) {
	if err := r.Pieces.Are(chess.Kinds); err != nil {
		return scene.Setup{}, err
	}
	c := r.Camera
	s := scene.Setup{Square: float64(r.Board.Square), Border: float64(r.Board.Border), Image: c.Image,
		HFOV: float64(c.HFOV), Height: float64(c.Height), White: c.WhiteSide}
	for kind := chess.Pawn; kind <= chess.King; kind++ {
		piece := r.Pieces.Of(kind)
		s.Pieces[kind] = silhouette.Shape{Height: float64(piece.Height), Base: float64(piece.Base)}
	}
	return s, s.Check()
}

// find looks for the board in a picture: near the earlier view first, if
// there was one.
func findBoard(s scene.Setup, img image.Image, earlier *optics.View) (optics.View, error) {
	l, err := locate.Find(pixels.LumaOf(img), locate.Setup{
		Square: s.Square, Border: s.Border, Image: s.Image,
		HFOV: s.HFOV, Height: s.Height, WhiteSide: s.White, Prior: earlier,
	})
	return l.View, err
}
