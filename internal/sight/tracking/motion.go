// SPDX-License-Identifier: Apache-2.0

package tracking

import (
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
)

// TurnTo takes the tracker to another view, after a bump: everything remembered by
// pixel is carried over through the board plane, and for the pieces through a
// plane at half their height.
func (e *Tracker) TurnTo(v optics.View) {
	old := e.Plane
	const slight = 0.5                          // image pixels: the table, a little lower, moves about as far as the board
	e.Around = e.Around && e.Travel(v) < slight // and otherwise after more
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

// Marks is the last settled picture, as it came from the camera, for others to
// be registered against.
func (e *Tracker) Marks() *register.Reference {
	return &register.Reference{Plane: e.Plane, Image: e.Frames[0], Open: e.Stack.Open,
		Field: e.Setup.HalfField(), Border: e.Setup.Border, Kept: &e.keypoints}
}

// Align finds how the camera moved since the last settled picture.
func (e *Tracker) Align(now *pixels.Image, from optics.View) (view optics.View, moved, good float64) {
	return e.Marks().Align(now, from)
}

// Settled is align for a camera that was hardly touched: within a pixel.
func (e *Tracker) Settled(now *pixels.Image) (view optics.View, moved, good float64) {
	return e.Marks().AlignStill(now)
}

// Travel is how far a view moves the field's corners, pixels.
func (e *Tracker) Travel(v optics.View) float64 { return e.Marks().Travel(v) }
