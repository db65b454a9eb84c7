// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"boardhand/internal/sight/light"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Detector finds what covers the board since the last settled pictures.
type Detector struct {
	Scene  *scene.Scene     // as it stood in the last settled picture
	Frames [3]*pixels.Image // settled pictures as they came from the camera: the last, the one before, the first
	Around bool             // what lies beside the board is as in the last: no bump since
}

// Find looks for a hand or an arm: something that covers what was there,
// reaches in from the picture's edge and lies over the board. It compares the
// whole picture with the remembered one, cell by cell, in a few milliseconds,
// and needs neither the light nor the pieces to be known. It returns all that it
// finds, and the hand.
//
// When most of the field has lost its structure the camera was bumped, and
// nothing can be said before the board has been found again.
func (d *Detector) Find(raw *pixels.Image) (over []Occluder, hand *Occluder) {
	odd, ok := d.covered(raw)
	if !ok {
		return nil, nil
	}
	over = components(d.Scene, odd.Solid(), odd)
	square := d.Scene.Setup.Square * d.Scene.Setup.Square * 1e6
	for k := range over {
		if over[k].isHand(square) {
			return over, &over[k]
		}
	}
	return over, nil
}

// covered marks the cells over which something lies: they show neither what
// the last settled picture showed nor what the one before did, nor the first (a shadow or
// its grain, or a hand beside the board, may have been in the last alone, and a cup in
// many), and light alone does not explain it. False
// after a bump.
func (d *Detector) covered(raw *pixels.Image) (Mask, bool) {
	c := Compare(raw, d.Frames[0])
	seen := c.Visibilities()
	odd := Mask{Grid: c.Grid, On: make([]bool, len(seen))}
	lost, told, any := 0, 0, false
	for k, s := range seen {
		zone := d.Scene.Zone(c.Middle(k))
		if zone == scene.Beside && !d.Around {
			continue
		}
		odd.On[k] = c.Covered(k, s)
		any = any || odd.On[k]
		if zone == scene.OverField && s != Untold {
			told++
			if s == Hidden {
				lost++
			}
		}
	}
	for n, earlier := range d.Frames[1:] {
		if !any || earlier == d.Frames[n] {
			continue
		}
		isOdd := func(k int) bool { return odd.On[k] }
		for k, is := range Compare(raw, earlier).Unlike(isOdd) {
			odd.On[k] = is
		}
	}
	if any {
		for k, is := range light.Explained(raw, d.Frames[0]) {
			odd.On[k] = odd.On[k] && !is
		}
	}
	return odd, float64(lost) <= bumped*float64(told)
}
