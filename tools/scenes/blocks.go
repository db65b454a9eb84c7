// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
)

// block writes a piece of plain solids, foot on z = 0, and its hull.
type block func(w carver) (trim string, hull []ring)

// blocks are the pieces of a set that has no shape in common with turned ones, nor with
// drawPlain's: which kind has which is drawn anew for each set.
var blocks = []block{
	carver.cylinder, carver.cone, carver.cube, carver.egg, carver.mushroom,
	carver.steps, carver.prism, carver.wedge, carver.hourglass, carver.crossed,
}

// drawBlocks replaces the pieces by plain solids, each kind by another one.
func (m *piecesSet) drawBlocks(d dice) {
	order := d.Perm(len(blocks))
	for i, k := range kinds {
		s := m.of[k]
		s.height = math.Round(s.height*(1+d.bell(0.06, 0.12))*2) / 2
		s.rings = nil
		s.trim, s.hull = blocks[order[i]](carver{d: d, r: s.base / 2, h: s.height})
		m.of[k] = s
	}
}

// shaft is the hull of what is as wide up to a share of the height as at its foot.
func shaft(wide float64) []ring { return []ring{round(0, wide), round(1, wide), round(1, 0.001)} }

func (w carver) cylinder() (string, []ring) {
	r := w.d.in(0.7, 1)
	return w.drum(0, 1, r), shaft(r)
}

func (w carver) cone() (string, []ring) {
	top := w.d.in(0.03, 0.4)
	return fmt.Sprintf("cone{0,%.3f,z*%.3f,%.3f}\n", w.r, w.h, w.r*top), []ring{round(0, 1), round(1, top), round(1, 0.001)}
}

func (w carver) cube() (string, []ring) {
	top := w.d.in(0.85, 1)
	return w.pillar(top) + fmt.Sprintf("box{<%.3f,%.3f,0><%.3f,%.3f,%.3f>}\n", -w.r*0.4, -w.r*0.4, w.r*0.4, w.r*0.4, w.h), shaft(1)
}

func (w carver) egg() (string, []ring) {
	return fmt.Sprintf("sphere{0,1 scale <%.3f,%.3f,%.3f> translate z*%.3f} ", w.r*0.9, w.r*0.9, w.h*0.55, w.h*0.45) + w.drum(0, 0.1, 1), shaft(1)
}

func (w carver) mushroom() (string, []ring) {
	stem, from := w.d.in(0.3, 0.55), w.d.in(0.6, 0.75)
	return w.drum(0, 0.06, 1) + w.drum(0, from, stem) + w.dome(from), shaft(1)
}

func (w carver) steps() (string, []ring) {
	a, b := w.d.in(0.25, 0.4), w.d.in(0.6, 0.75)
	return w.drum(0, a, 1) + w.drum(a, b, 0.7) + w.drum(b, 1, 0.4), shaft(1)
}

func (w carver) prism() (string, []ring) {
	n, s := one(w.d, 3, 5, 6), fmt.Sprintf("prism{linear_sweep linear_spline 0,%.3f,", w.h)
	s += fmt.Sprint(n + 1)
	for i := range n + 1 {
		a := 2 * math.Pi * float64(i) / float64(n)
		s += fmt.Sprintf(",<%.3f,%.3f>", w.r*math.Cos(a), w.r*math.Sin(a))
	}
	return s + " rotate x*90}\n", shaft(1)
}

func (w carver) wedge() (string, []ring) {
	return fmt.Sprintf("difference{box{<%.3f,%.3f,0><%.3f,%.3f,%.3f>} plane{-z,0 rotate x*%.1f translate z*%.3f}}\n",
		-w.r*0.7, -w.r*0.7, w.r*0.7, w.r*0.7, w.h, -w.d.in(30, 45), 0.65*w.h), shaft(1)
}

func (w carver) hourglass() (string, []ring) {
	waist, top := w.d.in(0.2, 0.4), w.d.in(0.6, 0.9)
	return fmt.Sprintf("cone{0,%.3f,z*%.3f,%.3f} cone{z*%.3f,%.3f,z*%.3f,%.3f}\n",
		w.r, 0.55*w.h, waist*w.r, 0.5*w.h, waist*w.r, w.h, top*w.r), shaft(1)
}

func (w carver) crossed() (string, []ring) {
	t, a := w.d.in(0.2, 0.3)*w.r, w.d.in(0.8, 0.95)*w.r
	return w.drum(0, 0.08, 1) + fmt.Sprintf("box{<%.3f,%.3f,0><%.3f,%.3f,%.3f>} box{<%.3f,%.3f,0><%.3f,%.3f,%.3f>}\n",
		-t, -a, t, a, w.h, -a, -t, a, t, w.h), shaft(1)
}
