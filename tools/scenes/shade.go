// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// shadeMap tells how much of a light people leave to each place over the
// table, on a grid between which it is linear.
type shadeMap struct {
	low  vec
	n    [3]int
	step vec // mm
	open []float32

	exact func(p vec) float64 // for penumbras finer than the grid; nil: none are
}

// The grid's steps, mm: people stand so far off that their shadows' edges are
// broader.
const (
	shadeStep = 11.0
	shadeRise = 60.0
)

// newShadeMap works out what `open` gives over the table, from its top to
// above the pieces and a hand.
func (s *session) newShadeMap(open func(p vec) float64) *shadeMap {
	half := 4*s.square + s.border + 200
	m := &shadeMap{low: vec{-half, -half, -s.thick}, step: vec{shadeStep, shadeStep, shadeRise}}
	m.n = [3]int{int(2*half/shadeStep) + 2, int(2*half/shadeStep) + 2, int((170+s.thick)/shadeRise) + 2}
	m.open = make([]float32, 0, m.n[0]*m.n[1]*m.n[2])
	for z := range m.n[2] {
		for y := range m.n[1] {
			for x := range m.n[0] {
				p := vec{m.low[0] + float64(x)*shadeStep, m.low[1] + float64(y)*shadeStep, m.low[2] + float64(z)*shadeRise}
				m.open = append(m.open, float32(open(p)))
			}
		}
	}
	return m
}

// at is the light left at a place; nil leaves all.
func (m *shadeMap) at(p vec) float64 {
	if m == nil {
		return 1
	}
	var i [3]int
	var t [3]float32
	for k := range 3 {
		x := max(0, min(float64(m.n[k]-1)-1e-6, (p[k]-m.low[k])/m.step[k]))
		i[k] = int(x)
		t[k] = float32(x - float64(i[k]))
	}
	row := m.n[0]
	plane := row * m.n[1]
	base := i[0] + i[1]*row + i[2]*plane
	flat := func(b int) float32 {
		u := m.open[b] + (m.open[b+1]-m.open[b])*t[0]
		v := m.open[b+row] + (m.open[b+row+1]-m.open[b+row])*t[0]
		return u + (v-u)*t[1]
	}
	a, b := flat(base), flat(base+plane)
	if v := float64(a + (b-a)*t[2]); m.exact == nil || v == 0 || v == 1 {
		return v
	}
	return m.exact(p)
}

// leanIn draws people between a lamp and the board so that they shade about
// the wanted share of it, none of them in the camera's sight.
func (s *session) leanIn(d dice, l lamp, wanted float64) []capsule {
	var best []capsule
	miss := math.Inf(1)
	azimuth := math.Atan2(l.at[1], l.at[0])
	points := l.points()
	for range 150 {
		p := s.person(d, azimuth+d.bell(0.4, 1))
		if s.isInSight(p) {
			continue
		}
		sum := 0.0
		for i := range 64 {
			x, y := (float64(i%8)-3.5)*s.square, (float64(i/8)-3.5)*s.square
			sum += 1 - l.visible(&points, vec{x, y, 0}, p)
		}
		if m := math.Abs(sum/64 - wanted); m < miss {
			miss, best = m, p
		}
		if miss < 0.05 {
			break
		}
	}
	return best
}

// person draws somebody who leans towards the board from a direction: trunk,
// shoulders, head, and mostly an arm.
func (s *session) person(d dice, azimuth float64) []capsule {
	out := vec{math.Cos(azimuth), math.Sin(azimuth), 0}
	across := vec{-out[1], out[0], 0}
	at := func(r, side, z float64) vec { p := vec{}.along(out, r).along(across, side); p[2] = z; return p }
	hip := 4*s.square + s.border + d.in(60, 480)
	side, lean, high := d.in(-260, 260), d.in(20, 320), d.in(180, 560)
	sway := d.in(-120, 120)
	neck := hip - lean
	k := d.in(0.85, 1.1)
	parts := []capsule{
		{at(hip, side, -120), at(neck+40, side+sway, high-60), 130 * k, 115 * k},
		{at(neck+10, side+sway-150*k, high-40), at(neck+10, side+sway+150*k, high-40), 70 * k, 70 * k},
		{at(neck-70*k, side+sway, high+90*k), at(neck-90*k, side+sway, high+130*k), 82 * k, 88 * k},
	}
	if d.chance(0.6) {
		hand := one(d, -1.0, 1.0)
		shoulder := at(neck, side+sway+hand*190*k, high-50)
		elbow := at(neck-d.in(-60, 140), side+sway+hand*d.in(180, 320), high*d.in(0.3, 0.7))
		parts = append(parts, capsule{shoulder, elbow, 58 * k, 45 * k}, capsule{elbow, at(neck-d.in(20, 260), side+sway+hand*d.in(20, 260), d.in(20, 200)), 45 * k, 34 * k})
	}
	return parts
}

// isInSight says whether the camera would see a part of the people.
func (s *session) isInSight(people []capsule) bool {
	const spare = 12 // mm, for a camera that is knocked
	sh := sheetFor(s.view.lens, 1)
	mx, my := float64(sh.w)/2/sh.f, float64(sh.h)/2/sh.f
	nx, ny := math.Hypot(1, mx), math.Hypot(1, my)
	for _, c := range people {
		for i := range 9 {
			t := float64(i) / 8
			q := s.view.pose.Apply(framePoint(c.a.along(c.b.minus(c.a), t)))
			r := c.ra + (c.rb-c.ra)*t + spare
			if q.Z > -r && math.Abs(q.X)-mx*q.Z < r*nx && math.Abs(q.Y)-my*q.Z < r*ny {
				return true
			}
		}
	}
	return false
}
