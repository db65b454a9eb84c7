// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
)

// reference is the last settled picture, as it came from the camera, for others to
// be registered against.
func (e *eye) reference() *register.Reference {
	return &register.Reference{Plane: e.ground, Image: e.raw[0], Open: e.stack.Open,
		Field: e.setup.field(), Border: e.setup.Border, Kept: &e.keypoints}
}

// align finds how the camera moved since the last settled picture.
func (e *eye) align(now *pixels.Image, from optics.View) (view optics.View, moved, good float64) {
	return e.reference().Align(now, from)
}

// settled is align for a camera that was hardly touched: within a pixel.
func (e *eye) settled(now *pixels.Image) (view optics.View, moved, good float64) {
	return e.reference().AlignStill(now)
}

// travel is how far a view moves the field's corners, pixels.
func (e *eye) travel(v optics.View) float64 { return e.reference().Travel(v) }
