// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"slices"

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
	odd, ok := d.changed(raw)
	if !ok {
		return nil, nil
	}
	over, hand, reaches := d.judge(odd)
	for _, explain := range []func(*pixels.Image, Mask){d.takeLight, d.takeEarlier} {
		if !reaches {
			return nil, nil
		}
		explain(raw, odd)
		over, hand, reaches = d.judge(odd)
	}
	if !reaches {
		return nil, nil
	}
	return over, hand
}

// Overhanging is the occluder that reaches over the board's edge and over the field as no piece
// and no piece's shadow does: a hand, where the picture may not show its arm.
func (d *Detector) Overhanging(over []Occluder) (Occluder, bool) {
	p, ok := Reaching(d.Scene, over)
	return p, ok && p.Inside > overhang*d.Scene.Setup.Square*d.Scene.Setup.Square*1e6
}

// Hands are those of some occluders that are hands, or as large as one.
func (d *Detector) Hands(over []Occluder) (hands []*Occluder) {
	square := d.Scene.Setup.Square * d.Scene.Setup.Square * 1e6
	for k := range over {
		if over[k].isHand(square) {
			hands = append(hands, &over[k])
		}
	}
	return hands
}

// Stirs says whether anything on the field, but for what hands cover, looks otherwise than in
// the last settled picture.
func (d *Detector) Stirs(raw *pixels.Image, hands []*Occluder) bool {
	odd, _ := d.changed(raw)
	for _, h := range hands {
		for _, k := range h.cells {
			odd.On[k] = false
		}
	}
	all := components(d.Scene, odd.Solid(), odd)
	return slices.ContainsFunc(all, func(p Occluder) bool { return p.Inside > 0 })
}

// judge collects the parts of some cells, and says whether one of them is a hand, or may be
// one, for it reaches over the board's edge: no part of less cells can if none of these does.
func (d *Detector) judge(odd Mask) (all []Occluder, hand *Occluder, reaches bool) {
	all = components(d.Scene, odd.Solid(), Mask{Grid: odd.Grid, On: slices.Clone(odd.On)})
	square := d.Scene.Setup.Square * d.Scene.Setup.Square * 1e6
	if k := slices.IndexFunc(all, func(p Occluder) bool { return p.isHand(square) }); k >= 0 {
		hand = &all[k]
	}
	_, reaches = Reaching(d.Scene, all)
	return all, hand, reaches || hand != nil
}

// changed marks the cells that do not show what the last settled picture showed; false
// after a bump.
func (d *Detector) changed(raw *pixels.Image) (Mask, bool) {
	c := Compare(raw, d.Frames[0])
	odd := Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	lost, told := 0, 0
	for k := range odd.On {
		zone := d.Scene.Zone(c.Middle(k))
		if zone == scene.Beside && !d.Around {
			continue
		}
		s := c.visibility(k)
		odd.On[k] = c.isCovered(k, s)
		if zone == scene.OverField && s != Untold {
			told++
			if s == Hidden {
				lost++
			}
		}
	}
	return odd, float64(lost) <= bumped*float64(told)
}

// takeLight takes out the cells that light alone explains.
func (d *Detector) takeLight(raw *pixels.Image, odd Mask) {
	light.Explained(raw, d.Frames[0], odd.On)
}

// takeEarlier takes out the cells that show what the settled picture before the last did, or
// the first: a shadow or its grain, or a hand beside the board, may have been in the last
// alone, and a cup in many.
func (d *Detector) takeEarlier(raw *pixels.Image, odd Mask) {
	for n, earlier := range d.Frames[1:] {
		if earlier != d.Frames[n] {
			c := Compare(raw, earlier)
			for k, is := range odd.On {
				odd.On[k] = is && c.isUnlike(k)
			}
		}
	}
}
