// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"math"
)

// paint fits the coat of one ground to the pixels where it lies open, robustly:
// a hand or a piece where none should be must not colour the board.
func (m *model) paint(sc *scene, p *pixels.Image, kind int) (background.Surface, bool) {
	var where []int32
	for _, i := range sc.samples {
		if k, ok := sc.kindOf(i); ok && k == kind && sc.stack.Open(i) > 0.97 {
			where = append(where, i)
		}
	}
	if len(where) < 40 {
		return background.Surface{}, false
	}
	return background.FitSurface(p, where), true
}

// imagine paints the bare board everywhere from its open places.
func (m *model) imagine(sc *scene, p *pixels.Image, former *model) bool {
	var coats [background.Grounds]background.Surface
	for k := range coats {
		c, ok := m.paint(sc, p, k)
		if !ok {
			if k != background.MarginGround {
				return false
			}
			c = coats[background.LightGround]
			c.Spread = 0.5 // nothing known of the margin
		}
		coats[k] = c
	}
	n := len(p.L)
	even := &background.Memory{Image: pixels.Blank(p), Spread: make([]float32, n)}
	for y := sc.ground.Box.Y0; y < sc.ground.Box.Y1; y++ {
		for i := y*p.W + sc.ground.Box.X0; i < y*p.W+sc.ground.Box.X1; i++ {
			k, _ := sc.kindOf(int32(i))
			even.Image.L[i], even.Image.A[i], even.Image.B[i] = coats[k].At(p, i)
			even.Spread[i] = float32(coats[k].Spread)
		}
	}
	even.Slopes(sc.ground.Box)
	m.coat, m.bare, m.bareN = even, even.Clone(), make([]uint8, n)
	m.inherit(sc, former)
	m.air.Flat = m.swatches.Flat()
	m.air.Tint, _ = m.tinge(sc, p, even.Image)
	m.shading = background.NewShadows(&m.swatches)
	m.study(sc, m.shading, p, 0)
	return true
}

// inherit takes over the bare board as far as a former eye saw it.
func (m *model) inherit(sc *scene, former *model) {
	if former == nil {
		return
	}
	from, to := former.bare, m.bare
	for i, n := range former.bareN {
		if n > 0 {
			to.Image.L[i], to.Image.A[i], to.Image.B[i] = from.Image.L[i], from.Image.A[i], from.Image.B[i]
			to.Spread[i], m.bareN[i] = 0, n
		}
	}
	to.Slopes(sc.ground.Box)
}

// tinge finds how the colours change in a shadow: the lamp and the light from
// the room differ in colour. From the shadows on the open board that lit does
// not have; false when there are too few.
func (m *model) tinge(sc *scene, p, lit *pixels.Image) ([2]float64, bool) {
	const deep, few = -0.15, 30 // a clear shadow; fewer pixels say nothing
	var a, b []float64
	for _, i := range sc.samples {
		k, ok := sc.kindOf(i)
		if !ok || k == background.MarginGround || sc.stack.Open(i) < 0.97 {
			continue
		}
		if fall := float64(p.L[i] - lit.L[i]); fall < deep && fall > background.ShadeDeepest {
			a = append(a, float64(p.A[i]-lit.A[i])/fall)
			b = append(b, float64(p.B[i]-lit.B[i])/fall)
		}
	}
	if len(a) < few {
		return [2]float64{}, false
	}
	const most = 0.4 // no two household lamps differ more
	return [2]float64{math.Max(-most, math.Min(most, numeric.Median(a))), math.Max(-most, math.Min(most, numeric.Median(b)))}, true
}

// bareHere averages a pixel of bare board into the memory.
func (m *model) bareHere(p *pixels.Image, i int) {
	n := m.bareN[i]
	if n < bareMost {
		n++
		m.bareN[i] = n
	}
	k := 1 / float32(n)
	b := m.bare.Image
	b.L[i] += k * (p.L[i] - b.L[i])
	b.A[i] += k * (p.A[i] - b.A[i])
	b.B[i] += k * (p.B[i] - b.B[i])
	m.bare.Spread[i] = 0
}

// colour-model memory from picture to picture.
const (
	keepColours = 0.9 // of the tallies per settled picture: ten pictures' memory
	bareMost    = 12  // pictures averaged in the bare board
)

// settle makes a settled picture, in which the pieces of the scene stand, the reference
// frame, and learns from it. raw is the picture as it came from the camera.
func (m *model) settle(sc *scene, p, raw *pixels.Image) {
	m.around = true
	if m.phase() == meeting {
		m.raw[0] = raw
	}
	m.raw = [2]*pixels.Image{raw, m.raw[0]}
	m.last = &background.Memory{Image: p}
	m.last.Slopes(sc.ground.Box)
	for y := sc.ground.Box.Y0; y < sc.ground.Box.Y1; y++ {
		for i := y*p.W + sc.ground.Box.X0; i < y*p.W+sc.ground.Box.X1; i++ {
			if sc.stack.Open(int32(i)) > 0.99 {
				m.bareHere(p, i)
			}
		}
	}
	m.bare.Slopes(sc.ground.Box)
	m.study(sc, m.shading, p, keepColours)
	m.count(sc, p, nil, m.compare(m.bare, p, &m.air, sc.ground.Box), keepColours)
}
