// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"errors"
	"fmt"
	"image"
	"sort"

	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
)

// Checker is a printed checkerboard found whole in a picture.
type Checker struct {
	Columns, Rows int                       // inner corners
	Corners       []frame.Spot[frame.Image] // row by row
	Sigma         []float64                 // standard deviation of each coordinate, px
}

// ErrNoChecker says that a picture does not show the whole checkerboard.
var ErrNoChecker = errors.New("the checkerboard is not seen whole: show all of it, flat, in even light")

// FindChecker finds a checkerboard with columns × rows inner corners, each at
// least 3. Columns run so that a quarter turn clockwise in the picture leads to
// rows; of the two ways that are left the one whose field outside the first
// corner is dark comes first, if they differ. Corners lie within 0.1 px on
// sharp pictures.
func FindChecker(img image.Image, columns, rows int) (Checker, error) {
	if columns < 3 || rows < 3 {
		return Checker{}, fmt.Errorf("a checkerboard needs 3 × 3 inner corners or more; got %d × %d", columns, rows)
	}
	g := pixels.LumaOf(img)
	level, zoom := pixels.Smoothed(g), 1.0
	for level.Rect.Dx() >= 80 && level.Rect.Dy() >= 80 {
		span := float64(max(level.Rect.Dx(), level.Rect.Dy()))
		w := newLattice(findSaddles(level), ringReach, 1.5*span/float64(max(columns, rows)))
		for _, p := range w.patches() {
			s := newSheet(g, w, p, zoom)
			s.complete()
			if c, ok := s.window(columns, rows); ok {
				return c, nil
			}
		}
		level, zoom = pixels.Halved(level), 2*zoom
	}
	return Checker{}, ErrNoChecker
}

// sheet is a patch being measured in the full picture.
type sheet struct {
	g  *image.Gray
	at map[node]corner
}

func newSheet(g *image.Gray, w *lattice, p patch, zoom float64) *sheet {
	s := &sheet{g: g, at: map[node]corner{}}
	for n, k := range p {
		s.at[n] = corner{at: w.s[k].full(zoom)}
	}
	rough := s.at
	s.at = map[node]corner{}
	for _, n := range nodesOf(rough) {
		if m, ok := expect(rough, n); ok {
			if c, ok := measure(g, m); ok {
				s.at[n] = c
			}
		}
	}
	return s
}

// full is a saddle's place in the full picture.
func (s saddle) full(zoom float64) frame.Spot[frame.Image] {
	return frame.Spot[frame.Image]{X: s.x*zoom + (zoom-1)/2, Y: s.y*zoom + (zoom-1)/2}
}

// nodesOf lists nodes in a fixed order, so that results do not depend on the
// order of a map.
func nodesOf(at map[node]corner) []node {
	out := make([]node, 0, len(at))
	for n := range at {
		out = append(out, n)
	}
	sort.Slice(out, func(a, b int) bool {
		return out[a].j < out[b].j || out[a].j == out[b].j && out[a].i < out[b].i
	})
	return out
}

// expect says where a corner and its neighbours should lie, from those around it.
func expect(at map[node]corner, n node) (expectedCorner, bool) {
	m, known := expectedCorner{}, false
	if c, ok := at[n]; ok {
		m.at, known = c.at, true
	}
	var okI, okJ bool
	m.i, okI = stride(at, n, node{1, 0})
	m.j, okJ = stride(at, n, node{0, 1})
	if !okI || !okJ {
		return m, false
	}
	if known {
		return m, true
	}
	hypothesis, count := frame.Spot[frame.Image]{}, 0.0
	for _, d := range []node{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		if c, ok := at[node{n.i + d.i, n.j + d.j}]; ok {
			step := m.i.Scale(float64(d.i)).Add(m.j.Scale(float64(d.j)))
			hypothesis, count = hypothesis.Add(c.at.Sub(step)), count+1
		}
	}
	m.at = hypothesis.Scale(1 / count)
	return m, count > 0
}

// stride is the step along d at a node, from the nearest known pairs in line
// with it or beside it.
func stride(at map[node]corner, n, d node) (frame.Spot[frame.Image], bool) {
	span := func(a, b node) (frame.Spot[frame.Image], bool) {
		p, okP := at[a]
		q, okQ := at[b]
		return q.at.Sub(p.at), okP && okQ
	}
	for _, side := range []int{0, 1, -1, 2, -2} {
		o := node{n.i + side*d.j, n.j + side*d.i}
		next, last := node{o.i + d.i, o.j + d.j}, node{o.i - d.i, o.j - d.j}
		if s, ok := span(last, next); ok {
			return s.Scale(0.5), true
		}
		if s, ok := span(o, next); ok {
			return s, true
		}
		if s, ok := span(last, o); ok {
			return s, true
		}
		if s, ok := span(next, node{next.i + d.i, next.j + d.j}); ok && side == 0 {
			return s, true
		}
		if s, ok := span(node{last.i - d.i, last.j - d.j}, last); ok && side == 0 {
			return s, true
		}
	}
	return frame.Spot[frame.Image]{}, false
}

// complete measures every corner again from its measured neighbours and grows
// the sheet by the corners the web missed.
func (s *sheet) complete() {
	for range growRounds {
		grown := false
		for _, n := range nodesOf(s.at) {
			for _, d := range []node{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				next := node{n.i + d.i, n.j + d.j}
				if _, ok := s.at[next]; !ok && s.add(next, s.at[n].contrast) {
					grown = true
				}
			}
		}
		if !grown {
			break
		}
	}
	for _, n := range nodesOf(s.at) {
		if m, ok := expect(s.at, n); ok {
			if c, ok := measure(s.g, m); ok {
				s.at[n] = c
			}
		}
	}
}

// add measures a missing corner next to one with the given contrast: the
// opposite fields are light there, about as much.
func (s *sheet) add(n node, beside float64) bool {
	m, ok := expect(s.at, n)
	if !ok {
		return false
	}
	c, ok := measure(s.g, m)
	if ok = ok && -c.contrast/beside > 0.3; ok {
		s.at[n] = c
	}
	return ok
}

// window looks for a full columns × rows block, either way round, and takes
// the one with the strongest weakest corner.
func (s *sheet) window(columns, rows int) (Checker, bool) {
	var best []corner
	weakest := 0.0
	try := func(block []corner) {
		if low := faintest(block); low > weakest {
			best, weakest = block, low
		}
	}
	for n := range s.at {
		for turned := range 4 {
			try(s.block(n, turned, columns, rows))
		}
	}
	if best == nil {
		return Checker{}, false
	}
	c := Checker{Columns: columns, Rows: rows}
	for _, k := range best {
		c.Corners, c.Sigma = append(c.Corners, k.at), append(c.Sigma, k.sigma)
	}
	return c, true
}

// block reads columns × rows corners from n on, columns along the turned i;
// nil if one is missing or the first corner's outer field is light.
func (s *sheet) block(n node, turned, columns, rows int) []corner {
	i := [4]node{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[turned]
	j := node{-i.j, i.i}
	out := make([]corner, 0, columns*rows)
	for r := range rows {
		for c := range columns {
			k, ok := s.at[node{n.i + c*i.i + r*j.i, n.j + c*i.j + r*j.j}]
			if !ok {
				return nil
			}
			out = append(out, k)
		}
	}
	// Light where both directions have one sign; a quarter turn swaps that.
	light := out[0].contrast > 0 != (turned%2 == 1)
	if light && (columns+rows)%2 == 1 {
		return nil
	}
	return out
}

// faintest is the least contrast in a block, 0 for none.
func faintest(block []corner) float64 {
	low := 0.0
	for i, c := range block {
		if k := max(c.contrast, -c.contrast); i == 0 || k < low {
			low = k
		}
	}
	return low
}
