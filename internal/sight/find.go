// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"

	"boardhand/internal/optics"
	"boardhand/internal/sight/locate"
	"boardhand/internal/sight/pixels"
)

// find looks for the board in a picture: near the earlier view first, if
// there was one.
func (s Setup) find(img image.Image, earlier *optics.View) (optics.View, error) {
	l, err := locate.Find(pixels.LumaOf(img), locate.Setup{
		Square: s.Square, Border: s.Border, Image: s.Image,
		HFOV: s.HFOV, Height: s.Height, WhiteSide: s.White, Prior: earlier,
	})
	return l.View, err
}
