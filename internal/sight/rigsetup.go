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
		HFOV: float64(c.HFOV), Height: float64(c.Height), White: c.WhiteSide, Seen: r.Seen}
	for _, kind := range r.Pieces.Kinds().All() {
		piece := r.Pieces.Of(kind)
		s.Pieces[kind] = silhouette.Shape{Height: float64(piece.Height), Base: float64(piece.Base)}
	}
	return s, s.CheckSaid()
}

// FindBoard looks for the board in a picture: near the earlier view first, if there was one
// (else nil), in a first picture with the lens as measured, if it was.
func FindBoard(s scene.Setup, img image.Image, earlier *optics.View) (optics.View, error) {
	find := locate.Find
	if earlier == nil && s.Seen != nil {
		find, earlier = locate.FindThrough, s.Seen
	}
	l, err := find(pixels.LumaOf(img), locate.Setup{Square: s.Square, Border: s.Border, Image: s.Image,
		HFOV: s.HFOV, Height: s.Height, WhiteSide: s.White, Prior: earlier})
	return l.View, err
}
