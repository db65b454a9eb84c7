// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"slices"
)

// mixer puts a shot's layers together pixel by pixel.
type mixer struct {
	s      *session
	sh     shot
	eye    vec
	open   []*shadeMap // of each key lamp, past people
	bodies []capsule   // people and hands, which stand in mirrored rays
	fill   *shadeMap
}

// sharp is the width of a lamp, radians, under which the penumbra of people is
// finer than the grid of a shade map.
const sharp = 0.04

// newMixer works out what people leave of each light.
func newMixer(s *session, sh shot) *mixer {
	e := sh.view.eye()
	m := &mixer{s: s, sh: sh, eye: vec{e.X, e.Y, e.Z}, open: make([]*shadeMap, len(s.light.key))}
	people := sh.light.people
	m.bodies = slices.Clone(people)
	for _, b := range sh.extra {
		m.bodies = append(m.bodies, b.skeleton()...)
	}
	if len(people) == 0 {
		return m
	}
	for i, l := range s.light.key {
		if sh.light.lamps[i] > 0 {
			points := l.points()
			open := func(p vec) float64 { return l.visible(&points, p, people) }
			m.open[i] = s.newShadeMap(open)
			if l.size < sharp*l.distance {
				m.open[i].exact = open
			}
		}
	}
	m.fill = s.newShadeMap(func(p vec) float64 { return dimmed(p, people) })
	return m
}

// compose puts a shot's picture together.
func (r *darkroom) compose(sh shot, lit []picture) picture {
	st := r.st
	out := picture{w: st.sheet.w, h: st.sheet.h, pix: make([]float32, st.sheet.w*st.sheet.h*3)}
	m := newMixer(st.s, sh)
	shares := make([]float32, len(lit))
	var depth []float32
	if !r.isFlat {
		depth = st.depths(sh)
	}
	for y := range out.h {
		for x := range out.w {
			i := 3 * (y*out.w + x)
			var p vec
			if depth != nil {
				p = m.eye.along(st.ray(sh.view, x, y), float64(depth[i/3]))
			}
			r.shares(m, p, shares)
			to := out.pix[i : i+3]
			for k, l := range lit {
				if l.pix != nil && shares[k] > 0 {
					to[0] += shares[k] * l.pix[i]
					to[1] += shares[k] * l.pix[i+1]
					to[2] += shares[k] * l.pix[i+2]
				}
			}
			if depth != nil && m.isBoard(p) {
				m.face(p, to)
			}
		}
	}
	return out
}

// shares are how much of each layer arrives at a place.
func (r *darkroom) shares(m *mixer, p vec, out []float32) {
	light := &m.sh.light
	for k, l := range r.layers {
		share := 1.0
		switch {
		case l.fill && len(l.lamps) == 0:
			share = light.fill * m.fill.at(p)
		case !l.fill:
			i := l.lamps[0]
			share = light.lamps[i]
			if share > 0 && i == 0 && m.s.room.kind == sunBars {
				share *= m.s.room.window.open(p, light.shift)
			}
			if share > 0 {
				share *= m.open[i].at(p)
			}
		}
		out[k] = float32(share / dimming)
	}
}

// isBoard says whether a place is on the board's face.
func (m *mixer) isBoard(p vec) bool {
	half := 4*m.s.square + m.s.border
	return math.Abs(p[2]) < 0.5 && math.Abs(p[0]) < half && math.Abs(p[1]) < half
}

// face adds what only the board's face has: wear, and panes in its varnish.
func (m *mixer) face(p vec, to []float32) {
	r := m.s.room
	if r.wear != nil {
		t := r.wear.at(p)
		for c := range to {
			to[c] *= t[c]
		}
	}
	if len(m.sh.light.panes) == 0 {
		return
	}
	ray := r.mirror.bounce(m.eye, p)
	k := r.mirror.glow(m.sh.light.panes, p, ray)
	if k < 1e-3 || m.s.isBlocked(m.sh.pieces, p, ray) {
		return
	}
	for _, c := range m.bodies {
		gap, at := clearance(c, p, p.along(ray, 1500))
		k *= clamp(0.5 + gap/(1500*at*2*r.mirror.blur+1))
	}
	for c := range to {
		to[c] += float32(k * r.mirror.colour[c])
	}
}
