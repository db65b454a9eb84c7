// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"

	"boardhand/internal/chess"
)

// Pieces of other families than turned ones: sawn, moulded, plain. A set mixes
// them kind by kind, so that nothing is learnt of one maker's habits.

// oddity is how likely a kind of a set for learning is of another family.
const oddity = 0.5

// drawOdd replaces kinds of a set by pieces of other families, and sometimes turns
// the ranking of heights a little.
func (m *piecesSet) drawOdd(d dice, square float64) {
	for _, k := range kinds {
		s := m.of[k]
		s.height = math.Round(s.height*(1+d.bell(0.07, 0.15))*2) / 2
		s.base = math.Round(math.Min(0.7*square, s.base*(1+d.bell(0.06, 0.12)))*2) / 2
		st := drawStyle(d)
		if d.chance(oddity) {
			s.rings, s.trim = st.odd(d, k, s)
		} else {
			s.rings = st.rings(d, k)
			s.trim = trim(d, k, s, s.rings)
		}
		m.of[k] = s
	}
}

// odd is the outline and the rest of a piece of another family.
func (st style) odd(d dice, k chess.Kind, s shape) ([]ring, string) {
	w := carver{d: d, r: s.base / 2, h: s.height}
	switch k {
	case chess.Knight:
		return st.body(0.2, st.waist)[:8], one(d, w.sawnHorse, w.blockHorse, w.slant)()
	case chess.Bishop:
		top := d.in(0.55, 0.65)
		return st.body(top, st.neck), one(d, w.mitre, w.spire)(top - 0.02)
	case chess.Rook:
		top, wide := d.in(0.6, 0.75), d.in(0.55, 0.8)
		r := st.body(top, st.neck+0.14)
		if d.chance(0.5) { // a plain tower, with or without a rim
			rim := d.in(0.04, 0.2)
			return append(r, round(top+0.05, wide), round(1, wide), round(1, wide-rim), round(1-d.in(0, 0.12), wide-rim), round(0.86, 0.001)), ""
		}
		return r, w.square(top, wide)
	case chess.Queen:
		top, wide := d.in(0.6, 0.75), d.in(0.45, 0.68)
		return cup(st.body(top, st.neck), top+0.01, d.in(0.84, 0.9), d.in(0.91, 1), wide), one(d, w.spikes, w.knob)(wide)
	case chess.Pawn:
		if d.chance(0.5) {
			return append(st.body(d.in(0.5, 0.7), st.neck), round(d.in(0.8, 0.95), d.in(0.4, 0.6)), round(1, d.in(0.05, 0.5)), round(1, 0.001)), ""
		}
	}
	r := st.rings(d, k)
	return r, trim(d, k, s, r)
}

// carver writes the parts of a piece of base radius r and height h that no lathe
// makes, as povray text; pieces face +y.
type carver struct {
	d    dice
	r, h float64
}

// sawnHorse is a horse sawn from a board: its profile, as thick as the board.
func (w carver) sawnHorse() string {
	nose, thick := w.d.in(0.6, 0.95), w.d.in(0.22, 0.4)
	at := func(y, z float64) [2]float64 { return [2]float64{y + w.d.bell(0.04, 0.08), z} }
	outline := [][2]float64{at(-0.6, 0.1), at(-0.65, 0.35), at(-0.62, 0.65), at(-0.4, 0.88), at(-0.15, 1), at(-0.02, 0.9), at(0.2, 0.86),
		at(nose, 0.7), at(nose-0.08, 0.58), at(nose-0.3, 0.56), at(0.15, 0.55), at(0.3, 0.38), at(0.55, 0.1)}
	s := fmt.Sprintf("prism{linear_sweep linear_spline %.3f,%.3f,%d", -thick*w.r, thick*w.r, len(outline)+1)
	for _, p := range append(outline, outline[0]) {
		s += fmt.Sprintf(",<%.3f,%.3f>", p[0]*w.r, math.Min(1, p[1])*w.h)
	}
	return s + " rotate z*90}\n"
}

// blockHorse is a horse of two blocks.
func (w carver) blockHorse() string {
	t, nose := w.d.in(0.25, 0.45)*w.r, w.d.in(0.6, 0.95)*w.r
	low, mid := w.d.in(0.5, 0.65)*w.h, w.d.in(0.78, 1)*w.h
	return fmt.Sprintf("box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>} box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>}\n",
		-t, -0.6*w.r, 0.1*w.h, t, 0.2*w.r, w.h, -t, -0.5*w.r, low, t, nose, mid)
}

// slant is a horse as plain sets have it: a stem with a sloping top.
func (w carver) slant() string {
	rad := w.d.in(0.45, 0.7) * w.r
	return fmt.Sprintf("difference{cylinder{<0,0,%.3f>,<0,0,%.3f>,%.3f} plane{-z,0 rotate x*%.1f translate z*%.3f}}\n",
		0.1*w.h, w.h, rad, -w.d.in(25, 45), 0.8*w.h)
}

// mitre is a pointed head with a slit.
func (w carver) mitre(z float64) string {
	half := (0.97 - z) / 2
	slit := ""
	if w.d.chance(0.7) {
		slit = fmt.Sprintf("box{<%.3f,%.3f,0><%.3f,%.3f,%.3f> rotate x*%.1f translate z*%.3f}",
			-w.r, -0.06*w.r, w.r, 0.06*w.r, w.h, -w.d.in(25, 40), (z+half)*w.h)
	}
	return fmt.Sprintf("difference{sphere{0,1 scale <%.3f,%.3f,%.3f> translate z*%.3f}%s} sphere{z*%.3f,%.3f}\n",
		w.d.in(0.38, 0.55)*w.r, w.d.in(0.38, 0.55)*w.r, half*w.h, (z+half)*w.h, slit, 0.96*w.h, w.d.in(0.08, 0.16)*w.r)
}

// spire is a cone for a head.
func (w carver) spire(z float64) string {
	return fmt.Sprintf("cone{z*%.3f,%.3f,z*%.3f,%.3f}\n", z*w.h, w.d.in(0.45, 0.65)*w.r, w.h, w.d.in(0.02, 0.12)*w.r)
}

// square is a tower with four corners.
func (w carver) square(z, wide float64) string {
	a, notch := wide*w.r*0.85, w.d.in(0.2, 0.4)*wide*w.r
	return fmt.Sprintf("difference{box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>} box{<%.3f,-50,%.3f><%.3f,50,100>} box{<-50,%.3f,%.3f><50,%.3f,100>}}\n",
		-a, -a, z*w.h, a, a, w.h, -notch, 0.9*w.h, notch, -notch, 0.9*w.h, notch)
}

// spikes are the points of a crown.
func (w carver) spikes(wide float64) string {
	n, s := one(w.d, 5, 6, 8, 10), ""
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		x, y := 0.85*wide*w.r*math.Cos(a), 0.85*wide*w.r*math.Sin(a)
		s += fmt.Sprintf("cone{<%.3f,%.3f,%.3f>,%.3f,<%.3f,%.3f,%.3f>,0}\n", x, y, 0.84*w.h, 0.26*wide*w.r, 1.1*x, 1.1*y, w.h)
	}
	return s
}

// knob is a ball on the head, or nothing.
func (w carver) knob(float64) string {
	if w.d.chance(0.3) {
		return ""
	}
	rad := w.d.in(0.1, 0.25) * w.r
	return fmt.Sprintf("sphere{z*%.3f,%.3f}\n", w.h-rad, rad)
}
