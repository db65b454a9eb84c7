// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math/rand/v2"
)

// onlooker is a person who leans in between the lamp and the board, out of the
// camera's view: only the shadow is seen.
type onlooker struct {
	chance  *rand.Rand // nil: nobody
	left    int        // pictures that they still stay
	limbs   []limb     // head, shoulders and trunk
	drift   vec        // from picture to picture, m
	changed bool       // since the last picture
	light   []uint16   // left of each pixel's light, of 256
}

// next lets the onlooker come, move or go for one picture.
func (o *onlooker) next(s *stage) {
	if o.chance == nil || s.plate == nil {
		return
	}
	o.changed = o.left > 0
	if o.left > 0 {
		o.left--
		for i := range o.limbs {
			l := &o.limbs[i]
			l.a, l.b = l.a.Add(o.drift), l.b.Add(o.drift)
		}
		return
	}
	if o.chance.Float64() < leanChance {
		o.arrive(s)
	}
}

// arrive finds a place between the lamp and some spot of the board.
func (o *onlooker) arrive(s *stage) {
	x, y := s.scene.rig.Board.Half()
	about := func(most float64) float64 { return most * (2*o.chance.Float64() - 1) }
	for range leanTries {
		spot := vec{X: about(float64(x)), Y: about(float64(y))}
		head := spot.Between(s.scene.light.lamp, leanNear+leanFarther*o.chance.Float64())
		limbs := trunk(head, leanBelow*s.scene.light.lamp.Z)
		if s.showsAny(limbs) {
			continue
		}
		o.limbs, o.changed = limbs, true
		o.left = leanLeast + o.chance.IntN(leanMost-leanLeast+1)
		o.drift = vec{X: about(leanDrift), Y: about(leanDrift)}
		return
	}
}

// trunk is a person's upper half with the head at a place, leaning outwards to
// the chair; no part is higher than top or below the table.
func trunk(head vec, top float64) []limb {
	out := vec{X: head.X, Y: head.Y}
	out = unitVec(out)
	side := vec{X: -out.Y, Y: out.X}
	point := func(back, aside, down float64) vec {
		p := head.Add(times(back, out)).Add(times(aside, side)).Add(vec{Z: -down})
		p.Z = max(0.02, min(p.Z, top))
		return p
	}
	return []limb{
		{a: point(0, 0, 0.03), b: point(0.02, 0, -0.05), r: 0.085},
		{a: point(0.08, -0.16, 0.22), b: point(0.08, 0.16, 0.22), r: 0.07},
		{a: point(0.10, 0, 0.25), b: point(0.30, 0, 0.65), r: 0.14},
	}
}

// showsAny says whether the picture would show one of the limbs.
func (s *stage) showsAny(limbs []limb) bool {
	for _, l := range limbs {
		if x0, y0, x1, y1 := s.box(l, 0); x0 < x1 && y0 < y1 {
			return true
		}
	}
	return false
}

// cover joins the shadow to what hides the lamp, and returns what is left of
// the light of each pixel, for what stands there; nil when nobody leans in.
func (o *onlooker) cover(s *stage, hides []uint8) []uint16 {
	if o.left == 0 {
		return nil
	}
	if len(o.light) != len(hides) {
		o.light = make([]uint16, len(hides))
	}
	casts := [2][]rodShadow{}
	for _, l := range o.limbs {
		for g, z := range [2]float64{0, s.scene.tableZ} {
			casts[g] = append(casts[g], s.castRod(l, z))
		}
	}
	p := s.plate
	for i := range hides {
		g := 0
		if p.table[i] {
			g = 1
		}
		dark := hiddenByRods(casts[g], float64(p.x[i]), float64(p.y[i]))
		hides[i] = max(hides[i], uint8(255*dark))
		o.light[i] = uint16(256 * (1 - dark*float64(p.lamp[i])/255))
	}
	return o.light
}
