// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// pane is a bright rectangle over the table that the board mirrors: a lamp's
// shade, a skylight between its blinds.
type pane struct {
	middle vec        // mm, board frame
	half   [2]float64 // mm along its own axes
	turn   float64    // radians about z
	slats  float64    // mm between the slats of a blind; 0: none
	light  float64    // what the board's varnish adds where it lies, 1 is white paper
}

// mirror is a board's varnish.
type mirror struct {
	light  float64       // of a pane, see pane.light
	high   float64       // mm, panes over the board
	blur   float64       // radians, of the mirrored ray
	wave   [4][3]float64 // unevenness: direction in radians a mm, phase
	bend   float64       // radians, of the normal
	size   [2]float64    // mm, half of a pane
	turn   float64       // radians
	slats  float64       // mm
	colour vec
}

// drawMirror draws varnish that shows panes half transparent to white out.
func drawMirror(d dice) mirror {
	m := mirror{light: math.Exp(d.in(math.Log(0.35), math.Log(3))), high: d.in(900, 1900), blur: d.in(0.004, 0.02), bend: d.in(0.001, 0.006),
		turn: d.in(0, math.Pi), colour: vec{1, d.in(0.92, 1), d.in(0.8, 1.05)}}
	m.size = [2]float64{d.in(70, 260), d.in(120, 400)}
	if d.chance(0.35) {
		m.slats = d.in(40, 90)
	}
	for i := range m.wave {
		a, k := d.in(0, 2*math.Pi), 2*math.Pi/d.in(15, 70)
		m.wave[i] = [3]float64{k * math.Cos(a), k * math.Sin(a), d.in(0, 2*math.Pi)}
	}
	return m
}

// moveGlare opens another part of the blinds: a pane or two are mirrored
// somewhere else.
func (g *game) moveGlare() string {
	m := g.s.room.mirror
	g.lit.panes = nil
	eye := g.view.eye()
	for range 1 + g.d.IntN(2) {
		x, y := g.d.in(-3.6, 3.6)*g.s.square, g.d.in(-3.6, 3.6)*g.s.square
		grow := (eye.Z + m.high) / eye.Z // the mirrored eye sees the pane past (x, y)
		g.lit.panes = append(g.lit.panes, pane{
			middle: vec{eye.X + (x-eye.X)*grow, eye.Y + (y-eye.Y)*grow, m.high},
			half:   [2]float64{m.size[0] * g.d.in(0.4, 1.2), m.size[1] * g.d.in(0.4, 1.2)},
			turn:   m.turn, slats: m.slats, light: m.light * g.d.in(0.7, 1.2),
		})
	}
	g.lit.lamps[0] = g.d.in(0.8, 1.1)
	return "+glare"
}

// bounce is the ray from the eye, mirrored where it meets the board at p;
// away from the plane's by the varnish's unevenness.
func (m *mirror) bounce(eye, p vec) vec {
	r := p.minus(eye).unit()
	r[2] = -r[2]
	for _, w := range m.wave {
		k := 2 * m.bend / 2 * math.Cos(w[0]*p[0]+w[1]*p[1]+w[2])
		n := math.Hypot(w[0], w[1])
		r[0] += k * w[0] / n
		r[1] += k * w[1] / n
	}
	return r
}

// glow is what the varnish adds at p for a mirrored ray r.
func (m *mirror) glow(panes []pane, p, r vec) float64 {
	sum := 0.0
	for i := range panes {
		sum += panes[i].seen(p, r, m.blur)
	}
	if sum == 0 {
		return 0
	}
	n := r[2] / math.Sqrt(r.dot(r))
	return sum * (0.04 + 0.96*math.Pow(1-n, 5)) / 0.04 // Schlick 1994, over head-on
}

// seen is how bright a ray from p along r, spread by blur radians, sees the
// pane.
func (a *pane) seen(p, r vec, blur float64) float64 {
	t := (a.middle[2] - p[2]) / r[2]
	q := p.along(r, t).minus(a.middle)
	soft := 2 * blur * t * math.Sqrt(r.dot(r))
	s, c := math.Sincos(a.turn)
	u, v := c*q[0]+s*q[1], c*q[1]-s*q[0]
	open := clamp(0.5+(a.half[0]-math.Abs(u))/soft) * clamp(0.5+(a.half[1]-math.Abs(v))/soft)
	if open > 0 && a.slats > 0 {
		_, f := math.Modf(v/a.slats + 1000)
		open *= 1 - 0.8*clamp(0.5+(0.15-math.Abs(f-0.5))*a.slats/soft)
	}
	return open * a.light
}

// isBlocked says whether a piece stands in a ray from p.
func (s *session) isBlocked(pieces []piece, p, r vec) bool {
	for i := range pieces {
		m := &pieces[i]
		if m.z < -1 || m.z > 1 || m.toppled {
			continue
		}
		sh := s.pieces.of[m.piece.Kind()]
		x, y := m.x-p[0], m.y-p[1]
		if x*x+y*y > 4*sh.height*sh.height {
			continue
		}
		for z := 1.0; z < sh.height; z += 2 {
			t := z / r[2]
			if e := sh.radius(z); (t*r[0]-x)*(t*r[0]-x)+(t*r[1]-y)*(t*r[1]-y) < e*e {
				return true
			}
		}
	}
	return false
}

// radius is a shape's at a height, mm.
func (sh shape) radius(z float64) float64 {
	rings := sh.outline()
	share := z / sh.height
	for i := range rings[1:] {
		if a, b := rings[i], rings[i+1]; share <= b.z && b.z > a.z {
			return sh.base / 2 * (a.rx + (b.rx-a.rx)*(share-a.z)/(b.z-a.z))
		}
	}
	return 0
}
