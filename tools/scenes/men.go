// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/chess"
)

// kinds in falling height.
var kinds = []chess.Kind{chess.King, chess.Queen, chess.Bishop, chess.Knight, chess.Rook, chess.Pawn}

// shape is one kind's size and its outline, millimetres.
type shape struct {
	height float64
	base   float64 // diameter
	rings  []ring  // outline from the foot up
	hull   []ring  // outline of a piece that is not turned, about
	trim   string  // cross, coronet, battlements, ears: povray text
}

// menSet is the shapes and the two sides' finishes.
type piecesSet struct {
	of           map[chess.Kind]shape
	white, black finish
}

// ring is one horizontal section of a piece: an ellipse, in shares of the base
// radius, its centre shifted forward by cy, at height z in shares of the height.
type ring struct{ z, cy, rx, ry float64 }

// drawMen draws sizes and turned outlines anew.
func drawPieces(d dice, square float64) piecesSet {
	m := piecesSet{of: map[chess.Kind]shape{}}
	h := d.in(1.3, 1.9) * square
	high := map[chess.Kind]float64{chess.King: 1, chess.Queen: d.in(0.87, 0.95), chess.Bishop: d.in(0.74, 0.84),
		chess.Knight: d.in(0.65, 0.73), chess.Rook: d.in(0.54, 0.63), chess.Pawn: d.in(0.42, 0.52)}
	wide := d.in(0.47, 0.62) * square
	broad := map[chess.Kind]float64{chess.King: 1, chess.Queen: d.in(0.94, 1), chess.Bishop: d.in(0.84, 0.95),
		chess.Knight: d.in(0.86, 0.97), chess.Rook: d.in(0.86, 0.97), chess.Pawn: d.in(0.74, 0.86)}
	style := drawStyle(d)
	for _, k := range kinds {
		s := shape{height: math.Round(h*high[k]*2) / 2, base: math.Round(math.Max(0.38*square, wide*broad[k])*2) / 2}
		rings := style.rings(d, k)
		s.rings, s.trim = rings, trim(d, k, s, rings)
		m.of[k] = s
	}
	return m
}

// style is what the kinds of one set have in common.
type style struct {
	foot, neck, collar, waist float64 // radii in shares of the base radius
	plain                     bool    // no mouldings: a modern set
}

// drawStyle draws the common features.
func drawStyle(d dice) style {
	return style{foot: d.in(0.72, 0.92), neck: d.in(0.3, 0.44), collar: d.in(0.52, 0.7), waist: d.in(0.5, 0.72), plain: d.chance(0.25)}
}

// body returns foot, stem and collar up to height z.
func (s style) body(z, neck float64) []ring {
	r := []ring{round(0, 0.97), round(0.008, 1), round(0.05, 1), round(0.075, 0.95)}
	if !s.plain {
		r = append(r, round(0.085, s.foot-0.06), round(0.11, s.foot), round(0.13, s.foot-0.05), round(0.14, s.waist))
	} else {
		r = append(r, round(0.12, s.foot))
	}
	for i := 1; i <= 6; i++ {
		t := float64(i) / 7
		bow := (1 - t) * (1 - t)
		r = append(r, round(0.15+(z-0.15)*t, neck+(s.waist-neck)*bow))
	}
	r = append(r, round(z-0.02, neck))
	if !s.plain {
		c := s.collar * (0.6 + neck)
		r = append(r, round(z-0.012, c-0.05), round(z, c), round(z+0.012, c-0.05), round(z+0.016, neck+0.03))
	}
	return r
}

// round is a circular ring.
func round(z, r float64) ring { return ring{z: z, rx: r, ry: r} }

// ball adds a sphere-like head from z0 to z1 with the given greatest radius.
func ball(r []ring, z0, z1, rad float64) []ring {
	for i := 1; i < 10; i++ {
		a := math.Pi * float64(i) / 10
		r = append(r, round((z0+z1)/2-(z1-z0)/2*math.Cos(a), rad*math.Sin(a)))
	}
	return append(r, round(z1, 0.001))
}

// cup adds a flaring head from z0 to z1, then a dome to z2.
func cup(r []ring, z0, z1, z2, wide float64) []ring {
	neck := r[len(r)-1].rx
	for i := 1; i <= 6; i++ {
		t := float64(i) / 6
		r = append(r, round(z0+(z1-z0)*t, neck+(wide-neck)*t*t))
	}
	r = append(r, round(z1+0.004, wide*0.9))
	for i := 1; i <= 5; i++ {
		a := math.Pi / 2 * float64(i) / 5
		r = append(r, round(z1+(z2-z1)*math.Sin(a), wide*0.85*math.Cos(a)+0.001))
	}
	return r
}

// rings is the outline of one kind.
func (s style) rings(d dice, k chess.Kind) []ring {
	switch k {
	case chess.King:
		return cup(s.body(0.6, s.neck), 0.61, 0.82, 0.89, d.in(0.5, 0.62))
	case chess.Queen:
		return cup(s.body(0.62, s.neck), 0.63, 0.87, 0.93, d.in(0.52, 0.66))
	case chess.Bishop:
		return ball(s.body(0.58, s.neck*0.95), 0.59, d.in(0.9, 0.94), d.in(0.4, 0.52))
	case chess.Rook:
		w := d.in(0.58, 0.74)
		r := s.body(0.66, s.neck+0.14)
		return append(r, round(0.72, w), round(0.9, w), round(0.901, w-0.12), round(0.86, w-0.16), round(0.86, 0.001))
	case chess.Knight:
		return s.horse(d)
	}
	return ball(s.body(0.56, s.neck*1.05), 0.57, 1, d.in(0.5, 0.62))
}

// horse is a foot with a neck that bends back and a head that points forward.
func (s style) horse(d dice) []ring {
	r := s.body(0.2, s.waist)[:8]
	lean, nose, thick := d.in(0.1, 0.2), d.in(0.55, 0.85), d.in(0.3, 0.42)
	add := func(z, back, front, half float64) {
		r = append(r, ring{z: z, cy: (front - back) / 2, rx: half, ry: (front + back) / 2})
	}
	add(0.19, 0.62, 0.66, thick+0.18)
	add(0.28, 0.6, 0.62, thick+0.12)
	add(0.4, 0.62+lean, 0.46, thick+0.04)
	add(0.52, 0.6+lean, 0.34, thick)
	add(0.58, 0.58+lean, 0.36, thick)
	add(0.61, 0.57+lean, nose*0.92, thick*0.8)
	add(0.66, 0.55+lean, nose, thick*0.85)
	add(0.74, 0.5+lean, nose*0.9, thick*0.9)
	add(0.82, 0.44+lean, nose*0.5, thick*0.85)
	add(0.89, 0.34+lean, 0.12, thick*0.7)
	add(0.93, 0.24+lean, 0, thick*0.45)
	r = append(r, ring{z: 0.935, cy: -0.1 - lean, rx: 0.001, ry: 0.001})
	return r
}

// outline is the rings, or what comes near them.
func (sh shape) outline() []ring {
	if len(sh.rings) > 0 {
		return sh.rings
	}
	return sh.hull
}

// object is the povray text of one kind: foot on z = 0, facing +y.
func (sh shape) object(k chess.Kind) string {
	turned := ""
	if len(sh.rings) > 0 {
		turned = loft(sh.rings, sh)
	}
	return fmt.Sprintf("#declare Man_%c = union {\n%s%s}\n", k.Letter(), turned, sh.trim)
}

// trim is what is not turned on the lathe.
func trim(d dice, k chess.Kind, sh shape, rings []ring) string {
	var b strings.Builder
	r, h := sh.base/2, sh.height
	switch k {
	case chess.King:
		w, t := d.in(0.16, 0.24)*r, d.in(0.07, 0.1)*r
		fmt.Fprintf(&b, "sphere{<0,0,%.3f>,%.3f}\n", 0.9*h, 0.16*r)
		fmt.Fprintf(&b, "box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>}\n", -t, -t, 0.88*h, t, t, h)
		fmt.Fprintf(&b, "box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>}\n", -w, -t, 0.935*h, w, t, 0.97*h)
	case chess.Queen:
		n, w := one(d, 6, 8, 9), rings[len(rings)-6].rx*r
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			fmt.Fprintf(&b, "sphere{<%.3f,%.3f,%.3f>,%.3f}\n", 0.88*w*math.Cos(a), 0.88*w*math.Sin(a), 0.885*h, 0.17*w)
		}
		fmt.Fprintf(&b, "sphere{<0,0,%.3f>,%.3f}\n", h-0.15*r, 0.15*r)
	case chess.Bishop:
		top := rings[len(rings)-1].z * h
		fmt.Fprintf(&b, "sphere{<0,0,%.3f>,%.3f}\n", (top+h)/2, (h-top)*0.62)
	case chess.Rook:
		merlons(&b, one(d, 4, 5, 6), rings[len(rings)-4].rx*r, h)
	case chess.Knight:
		for _, x := range []float64{-1, 1} {
			fmt.Fprintf(&b, "cone{<%.3f,%.3f,%.3f>,%.3f,<%.3f,%.3f,%.3f>,0}\n", x*0.16*r, -0.12*r, 0.88*h, 0.12*r, x*0.2*r, -0.1*r, h)
		}
	}
	return b.String()
}

// merlons are a tower's battlements: short curved blocks, here sheared boxes.
func merlons(b *strings.Builder, n int, w, h float64) {
	for i := range n {
		half := math.Pi / float64(n) * 0.62
		a := 2 * math.Pi * float64(i) / float64(n)
		const cut = 5
		for j := range cut {
			t := a + half*(2*(float64(j)+0.5)/cut-1)
			side := w * half / cut * 1.1
			fmt.Fprintf(b, "box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f> rotate z*%.2f}\n",
				w*0.72, -side, 0.86*h, w*0.99, side, h, t*180/math.Pi)
		}
	}
}
