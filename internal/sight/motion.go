// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
)

// turn takes the tracker to another view, after a bump: everything remembered by
// pixel is carried over through the board plane, and for the pieces through a
// plane at half their height.
func (e *tracker) turn(v optics.View) {
	old := e.Plane
	const slight = 0.5                          // image pixels: the table, a little lower, moves about as far as the board
	e.Around = e.Around && e.travel(v) < slight // and otherwise after more
	at := e.Places()
	e.SetView(v)
	if e.Phase() == background.Meeting {
		e.Place(at)
		return
	}
	sigma := e.Sigmas()
	e.Place(at)
	e.SetSigmas(sigma)
	e.Model.Turn(&e.Scene, old)
}

// reference is the last settled picture, as it came from the camera, for others to
// be registered against.
func (e *tracker) reference() *register.Reference {
	return &register.Reference{Plane: e.Plane, Image: e.Frames[0], Open: e.Stack.Open,
		Field: e.Setup.HalfField(), Border: e.Setup.Border, Kept: &e.keypoints}
}

// align finds how the camera moved since the last settled picture.
func (e *tracker) align(now *pixels.Image, from optics.View) (view optics.View, moved, good float64) {
	return e.reference().Align(now, from)
}

// settled is align for a camera that was hardly touched: within a pixel.
func (e *tracker) settled(now *pixels.Image) (view optics.View, moved, good float64) {
	return e.reference().AlignStill(now)
}

// travel is how far a view moves the field's corners, pixels.
func (e *tracker) travel(v optics.View) float64 { return e.reference().Travel(v) }
