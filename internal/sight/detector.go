// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// detector finds what covers the board since the last settled pictures.
type detector struct {
	scene  *scene           // as it stood in the last settled picture
	frames [2]*pixels.Image // the last two settled pictures as they came from the camera, the last first
	around bool             // what lies beside the board is as in the last: no bump since
}

// find looks for a hand or an arm: something that covers what was there,
// reaches in from the picture's edge and lies over the board. It compares the
// whole picture with the remembered one, cell by cell, in a few milliseconds,
// and needs neither the light nor the pieces to be known. It returns all that it
// finds, and the hand.
//
// When most of the field has lost its structure the camera was bumped, and
// nothing can be said before the board has been found again.
func (d *detector) find(raw *pixels.Image) (over []occluder, hand *occluder) {
	odd, ok := d.covered(raw)
	if !ok {
		return nil, nil
	}
	over = blobs(d.scene, odd.Solid(), odd)
	square := d.scene.setup.Square * d.scene.setup.Square * 1e6
	for k := range over {
		if over[k].handlike(square) {
			return over, &over[k]
		}
	}
	return over, nil
}

const bumped = 0.5 // share of the field's cells whose structure is hidden when the camera has moved

// covered marks the cells over which something lies: they show neither what
// the last settled picture showed nor what the one before did (a shadow or its
// grain, or a hand beside the board, may have been in the last alone). False
// after a bump.
func (d *detector) covered(raw *pixels.Image) (occlusion.Mask, bool) {
	c := occlusion.Compare(raw, d.frames[0])
	seen := c.Judge()
	odd := occlusion.Mask{Grid: c.Grid, On: make([]bool, len(seen))}
	lost, told, any := 0, 0, false
	for k, s := range seen {
		zone := d.scene.zone(c.Middle(k))
		if zone == beside && !d.around {
			continue
		}
		odd.On[k] = c.Covered(k, s)
		any = any || odd.On[k]
		if zone == overField && s != occlusion.Untold {
			told++
			if s == occlusion.Hidden {
				lost++
			}
		}
	}
	if any && d.frames[1] != d.frames[0] {
		for k, is := range occlusion.Compare(raw, d.frames[1]).Unlike() {
			odd.On[k] = odd.On[k] && is
		}
	}
	return odd, float64(lost) <= bumped*float64(told)
}
