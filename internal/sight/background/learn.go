// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// fitGround fits the even colour of one ground to the pixels where it lies open, robustly:
// a hand or a piece where none should be must not colour the board.
func (m *Model) fitGround(sc *scene.Scene, p *pixels.Image, kind int) (Surface, bool) {
	var where []int32
	for _, i := range sc.Samples {
		if k, ok := sc.GroundAt(i); ok && k == kind && sc.Stack.Open(i) > 0.97 && !p.IsUntold(int(i)) {
			where = append(where, i)
		}
	}
	if len(where) < 40 {
		return Surface{}, false
	}
	return FitSurface(p, where), true
}

// Imagine paints the bare board everywhere from its open places.
func (m *Model) Imagine(sc *scene.Scene, p *pixels.Image, former *Model) bool {
	var coats [scene.Grounds]Surface
	for k := range coats {
		c, ok := m.fitGround(sc, p, k)
		if !ok {
			if k != scene.MarginGround {
				return false
			}
			c = coats[scene.LightGround]
			c.Spread = 0.5 // nothing known of the margin
		}
		coats[k] = c
	}
	n := len(p.L)
	even := &Template{Image: pixels.Blank(p), Spread: make([]float32, n)}
	for y := sc.Plane.Box.Y0; y < sc.Plane.Box.Y1; y++ {
		for i := y*p.W + sc.Plane.Box.X0; i < y*p.W+sc.Plane.Box.X1; i++ {
			k, _ := sc.GroundAt(int32(i))
			even.Image.L[i], even.Image.A[i], even.Image.B[i] = coats[k].At(p, i)
			even.Spread[i] = float32(coats[k].Spread)
		}
	}
	even.Slopes(sc.Plane.Box)
	m.Even, m.Bare, m.seenBare = even, even.Clone(), make([]uint8, n)
	m.inherit(sc, former)
	m.Conditions.OutlierDensity = m.Bins.OutlierDensity()
	m.Conditions.ShadowTint, _ = m.ShadowTint(sc, p, even.Image)
	m.Shadows = NewShadows(&m.Bins)
	m.CountShadows(sc, m.Shadows, p, 0)
	return true
}

// inherit takes over the bare board as far as a former tracker saw it.
func (m *Model) inherit(sc *scene.Scene, former *Model) {
	if former == nil {
		return
	}
	from, to := former.Bare, m.Bare
	for i, n := range former.seenBare {
		if n > 0 {
			to.Image.L[i], to.Image.A[i], to.Image.B[i] = from.Image.L[i], from.Image.A[i], from.Image.B[i]
			to.Spread[i], m.seenBare[i] = 0, n
		}
	}
	to.Slopes(sc.Plane.Box)
}

// ShadowTint finds how the colours change in a shadow: the lamp and the light from
// the room differ in colour. From the shadows on the open board that lit does
// not have; false when there are too few.
func (m *Model) ShadowTint(sc *scene.Scene, p, lit *pixels.Image) ([2]float64, bool) {
	const few = 30 // pixels: fewer say nothing
	var a, b []float64
	for _, i := range sc.Samples {
		k, ok := sc.GroundAt(i)
		if !ok || k == scene.MarginGround || sc.Stack.Open(i) < 0.97 {
			continue
		}
		if fall := float64(p.L[i] - lit.L[i]); fall < ShadowFaintest && fall > ShadowDeepest {
			a = append(a, float64(p.A[i]-lit.A[i])/fall)
			b = append(b, float64(p.B[i]-lit.B[i])/fall)
		}
	}
	if len(a) < few {
		return [2]float64{}, false
	}
	return [2]float64{numeric.Median(a), numeric.Median(b)}, true
}

// averageBare averages a pixel of bare board into the memory.
func (m *Model) averageBare(p *pixels.Image, i int) {
	n := m.seenBare[i]
	if n < 1/(1-keepColours) {
		n++
		m.seenBare[i] = n
	}
	k := 1 / float32(n)
	b := m.Bare.Image
	b.L[i] += k * (p.L[i] - b.L[i])
	b.A[i] += k * (p.A[i] - b.A[i])
	b.B[i] += k * (p.B[i] - b.B[i])
	m.Bare.Spread[i] = 0
}

// told is a settled picture with what it does not tell taken from the bare board, or, where
// pieces stand, from the picture before. Where a piece's light is doubtful it is taken to be
// in the one in which it looks most like its side.
func (m *Model) told(sc *scene.Scene, p *pixels.Image) *pixels.Image {
	if p.Blind == nil && p.Doubtful == nil {
		return p
	}
	q, last := p.Copied(), m.Reference.image()
	for i := range sc.Plane.Box.Each(p.W) {
		from := last
		switch is := sc.Stack.Open(int32(i)) > 0.97; {
		case !p.IsUntold(i):
			continue
		case is:
			from = m.Bare.Image
		case !p.IsBlind(i):
			from = m.likeliestLight(sc, p, i)
		}
		if from != nil {
			q.L[i], q.A[i], q.B[i] = from.L[i], from.A[i], from.B[i]
		}
	}
	return q
}

// likeliestLight is the light of a picture in which a pixel looks most like the piece there.
func (m *Model) likeliestLight(sc *scene.Scene, p *pixels.Image, i int) *pixels.Image {
	o := sc.Stack.At(int32(i))
	if len(o) == 0 {
		return p
	}
	colours := m.Appearance[sc.Pieces[o[0].Piece].Piece.Color()][o[0].Band].Density
	of := func(p *pixels.Image) float32 { return colours[m.Bins.Cell(p.L[i], p.A[i], p.B[i])] }
	best, most := p, float32(0)
	for _, l := range append(p.Lights[:len(p.Lights):len(p.Lights)], p) {
		if d := of(l); d > most && l.WeightAt(i) <= 1 { // what stands on the board hides reflections
			best, most = l, d
		}
	}
	return best
}

// Settle makes a settled picture, in which the pieces of the scene stand, the reference
// frame, and learns from it. raw is the picture as it came from the camera.
func (m *Model) Settle(sc *scene.Scene, p, raw *pixels.Image) {
	m.Around = true
	if m.Phase() == Meeting {
		m.Frames[0], m.Frames[2] = raw, raw
	}
	m.Frames = [3]*pixels.Image{raw, m.Frames[0], m.Frames[2]}
	for _, p := range m.Frames[1:] {
		if p != raw {
			p.Slim()
		}
	}
	m.Reference = &Template{Image: m.told(sc, p)}
	m.Reference.Slopes(sc.Plane.Box)
	for y := sc.Plane.Box.Y0; y < sc.Plane.Box.Y1; y++ {
		for i := y*p.W + sc.Plane.Box.X0; i < y*p.W+sc.Plane.Box.X1; i++ {
			if sc.Stack.Open(int32(i)) > 0.99 && !p.IsUntold(i) {
				m.averageBare(p, i)
			}
		}
	}
	m.Bare.Slopes(sc.Plane.Box)
	m.CountShadows(sc, m.Shadows, p, keepColours)
	m.countColours(sc, p, nil, m.Compare(m.Bare, p, &m.Conditions, sc.Plane.Box), keepColours)
}

// Patch takes some pixels of the reference frame, over which pieces came or left unseen, from
// the bare board, or, where pieces of the scene stand, from a picture in the remembered light.
func (m *Model) Patch(sc *scene.Scene, p *pixels.Image, stale []bool) {
	n := m.Reference.Clone()
	if n.Spread == nil {
		n.Spread = make([]float32, len(n.Image.L))
	}
	for i, is := range stale {
		if !is {
			continue
		}
		from, spread := m.Bare.Image, m.Bare.Spread[i]
		if sc.Stack.Open(int32(i)) < 0.97 {
			from, spread = p, patchSpread
		}
		n.Image.L[i], n.Image.A[i], n.Image.B[i], n.Spread[i] = from.L[i], from.A[i], from.B[i], spread
	}
	n.Slopes(sc.Plane.Box)
	m.Reference = n
}
