// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// wear is how a board's face has become darker and lighter with the years: a
// factor for its colour at each place.
type wear struct {
	half float64 // mm, of the board
	n    int
	tone [][3]float32
}

// wearStep is the map's step, mm.
const wearStep = 0.8

// mark is a stain, a ring of a wet cup, or a scratch.
type mark struct {
	at, to vec        // mm; a scratch runs from at to to
	r      float64    // mm
	ring   float64    // mm, width of a ring; 0: a stain
	depth  vec        // factor of the colour
	wave   [2]float64 // phases of its edge
}

// drawWear draws a worn face: squares faded unequally and most in their
// middles, stains, rings, scratches.
func drawWear(d dice, s session) *wear {
	w := &wear{half: 4*s.square + s.border}
	w.n = int(2*w.half/wearStep) + 2
	var marks []mark
	for range 8 + d.IntN(10) {
		marks = append(marks, drawMark(d, w.half))
	}
	var fade [64][2]float64
	for i := range fade {
		fade[i] = [2]float64{1 + d.bell(0.06, 0.14), d.in(0, 0.22)}
	}
	for y := range w.n {
		for x := range w.n {
			p := vec{float64(x)*wearStep - w.half, float64(y)*wearStep - w.half, 0}
			k := faded(p, s.square, &fade)
			t := vec{k, k, k}
			for i := range marks {
				marks[i].stain(p, &t)
			}
			w.tone = append(w.tone, [3]float32{float32(t[0]), float32(t[1]), float32(t[2])})
		}
	}
	return w
}

// drawMark draws a mark somewhere on the board.
func drawMark(d dice, half float64) mark {
	m := mark{at: vec{d.in(-1, 1) * half, d.in(-1, 1) * half, 0}, wave: [2]float64{d.in(0, 6), d.in(0, 6)}}
	m.to = m.at
	k := d.in(0.5, 0.9)
	m.depth = vec{k + 0.06, k, k - 0.08}
	switch d.IntN(5) {
	case 0:
		m.r, m.ring = d.in(28, 42), d.in(1.5, 4)
	case 1, 2:
		a, far := d.in(0, 2*math.Pi), d.in(20, 160)
		m.to = m.at.along(vec{math.Cos(a), math.Sin(a), 0}, far)
		m.r = d.in(0.4, 0.9)
		k = d.in(0.6, 1.5)
		m.depth = vec{k, k, k}
	default:
		m.r = d.in(5, 26)
	}
	return m
}

// faded is the factor of a place by its square alone.
func faded(p vec, square float64, fade *[64][2]float64) float64 {
	f, r := p[0]/square+4, p[1]/square+4
	if f < 0 || r < 0 || f >= 8 || r >= 8 {
		return 1
	}
	i := int(f) + 8*int(r)
	_, u := math.Modf(f)
	_, v := math.Modf(r)
	return fade[i][0] * (1 + fade[i][1]*math.Sin(math.Pi*u)*math.Sin(math.Pi*v))
}

// stain changes a place's factors by a mark.
func (m *mark) stain(p vec, t *vec) {
	gap := clearanceFlat(m.at, m.to, p)
	edge := m.r * (1 + 0.12*math.Sin(p[0]/9+m.wave[0])*math.Sin(p[1]/7+m.wave[1]))
	soft := math.Max(0.8, m.r*0.25)
	k := clamp(0.5 + (edge-gap)/soft)
	if m.ring > 0 {
		k = clamp(1-math.Abs(gap-m.r)/m.ring) * (0.6 + 0.4*math.Sin(math.Atan2(p[1]-m.at[1], p[0]-m.at[0])*2+m.wave[0]))
	}
	for i := range t {
		t[i] *= 1 + (m.depth[i]-1)*k
	}
}

// clearanceFlat is how far p is from the line from a to b, mm.
func clearanceFlat(a, b, p vec) float64 { return bone{a: a, b: b}.distance(p) }

// at is the factor at a place on the board.
func (w *wear) at(p vec) [3]float32 {
	x, y := int((p[0]+w.half)/wearStep+0.5), int((p[1]+w.half)/wearStep+0.5)
	return w.tone[max(0, min(w.n-1, x))+w.n*max(0, min(w.n-1, y))]
}
