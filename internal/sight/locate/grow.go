// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/sight/numeric"
)

// see measures every corner that the view predicts inside the picture.
func (m *mapping) see(round int) {
	found := map[node]corner{}
	contrast := m.contrast()
	near := m.nearby()
	for j := -span; j <= span; j++ {
		for i := -span; i <= span; i++ {
			n := node{i, j}
			if m.inner && !within(n, 3) || round == 0 && !m.beside(n, 2) {
				continue
			}
			if c, ok := m.recall(n, near); ok && m.fits(n, c, contrast) {
				found[n] = c
			}
		}
	}
	m.seen, m.far = found, false
	m.light = m.parity() > 0
}

// beside says whether a known corner lies within d steps of a node.
func (m *mapping) beside(n node, d int) bool {
	for j := -d; j <= d; j++ {
		for i := -d; i <= d; i++ {
			if _, ok := m.seen[node{n.i + i, n.j + j}]; ok {
				return true
			}
		}
	}
	return false
}

// expect is the corner as the view predicts it; i runs along x, j along y.
func (m *mapping) expect(n node) (expectedCorner, bool) {
	const h = 0.25 // of a square: the derivative's half width
	s, p := m.k.s.Square, m.board(n)
	at, ok := m.fitted.View.Project(p)
	r, okR := m.fitted.View.Project(p.Add(frame.Point[frame.Board]{X: h * s}))
	l, okL := m.fitted.View.Project(p.Add(frame.Point[frame.Board]{X: -h * s}))
	u, okU := m.fitted.View.Project(p.Add(frame.Point[frame.Board]{Y: h * s}))
	d, okD := m.fitted.View.Project(p.Add(frame.Point[frame.Board]{Y: -h * s}))
	w, t := float64(m.k.g.Rect.Dx()), float64(m.k.g.Rect.Dy())
	inside := at.X > 0 && at.Y > 0 && at.X < w-1 && at.Y < t-1
	return expectedCorner{at: at, i: r.Sub(l).Scale(1 / (2 * h)), j: u.Sub(d).Scale(1 / (2 * h)), exact: true},
		ok && okR && okL && okU && okD && inside
}

// nearby returns the level's saddles in full-picture pixels.
func (m *mapping) nearby() []frame.Spot[frame.Image] {
	if m.blind {
		return nil
	}
	found := m.k.found(m.zoom)
	out := make([]frame.Spot[frame.Image], len(found))
	for i, s := range found {
		out[i] = s.full(m.zoom)
	}
	return out
}

// recall returns an earlier measurement where the view has not moved since.
func (m *mapping) recall(n node, near []frame.Spot[frame.Image]) (corner, bool) {
	e, ok := m.expect(n)
	if !ok {
		return corner{}, false
	}
	if c, ok := m.seen[n]; ok && c.sigma > 0 && c.at.Distance(e.at) < keepSeen {
		return c, true
	}
	if p, ok := m.empty[n]; ok && p.Distance(e.at) < keepSeen {
		return corner{}, false
	}
	c, ok := m.lookFor(e, near)
	if !ok {
		m.empty[n] = e.at
	}
	return c, ok
}

// lookFor measures a corner, from the saddle nearest to where it is predicted
// or from the prediction itself.
func (m *mapping) lookFor(e expectedCorner, near []frame.Spot[frame.Image]) (corner, bool) {
	e.far = m.far
	reach := wander * math.Min(e.i.Norm(), e.j.Norm())
	start, best := e, reach
	for _, s := range near {
		if d := s.Distance(e.at); d < best {
			start.at, best, start.far = s, d, false
		}
	}
	if c, ok := measure(m.k.g, start); ok && c.at.Distance(e.at) < reach {
		return c, true
	}
	if best == reach {
		return corner{}, false
	}
	return measure(m.k.g, e)
}

// fits says whether a measured corner has the sign and about the size of
// contrast that the corners seen so far have at its place.
func (m *mapping) fits(n node, c corner, contrast float64) bool {
	const share = 0.3 // shadow and gloss leave at least this much of a board's contrast
	if contrast == 0 {
		return true
	}
	return c.contrast*sign(n)/contrast > share
}

func sign(n node) float64 {
	if (n.i+n.j)&1 == 0 {
		return 1
	}
	return -1
}

// contrast is the median contrast of the corners measured so far, signed as at
// even nodes; 0 if none was measured.
func (m *mapping) contrast() float64 {
	var v []float64
	for n, c := range m.seen {
		if c.contrast != 0 {
			v = append(v, c.contrast*sign(n))
		}
	}
	if len(v) == 0 {
		return 0
	}
	return numeric.Median(v)
}

// parity is positive when the field right of and above the origin is light.
func (m *mapping) parity() float64 {
	sum := 0.0
	for n, c := range m.seen {
		sum += sign(n) * math.Copysign(1, c.contrast)
	}
	return sum
}
