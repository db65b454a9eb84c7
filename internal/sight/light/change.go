// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Change is how the light changed, cell by cell.
type Change struct {
	cells
	added   [3][]float32 // mean change of the light of red, green, blue, of 255
	times   [3][]float32 // of L, A, B: in the logarithm, to be taken off
	level   []float32    // by how much the light rose: logarithm of the brightness, or reflection over greyUnit
	width   int          // of the pictures
	drowned []bool       // brighter than that explains

	plus [3][]float32 // red, green, blue, of 255: a reflection, to be taken off; then times is 0
}

func root(v float32) float32 { return float32(math.Sqrt(float64(v))) }

// IsElsewhere says whether much of the board is in another light, by some pixels of it.
func IsElsewhere(now *pixels.Image, then func(int32) *pixels.Image, where []int32) bool {
	return ShareElsewhere(now, then, where) > changedShare
}

// ShareElsewhere is the share of some pixels that are in another light.
func ShareElsewhere(now *pixels.Image, then func(int32) *pixels.Image, where []int32) float64 {
	n := 0
	for _, i := range where {
		if d := now.L[i] - then(i).L[i]; d > changed || d < -changed {
			n++
		}
	}
	return float64(n) / float64(max(1, len(where)))
}

// IsBrighter says whether so much of the board is brighter, by some pixels of it, that
// reflections may lie there.
func IsBrighter(now *pixels.Image, then func(int32) *pixels.Image, where []int32) bool {
	n := 0
	for _, i := range where {
		if now.L[i]-then(i).L[i] > changed {
			n++
		}
	}
	return float64(n) > brighterShare*float64(len(where))
}

// Between finds how the light changed: now is a picture brought as near to the light of
// then as one smooth function does it, raw the same as it came from the camera; square is
// the side of a square of the board, pixels.
func Between(now, raw, then *pixels.Image, square float64) *Change {
	c := &Change{cells: *newCells(now, raw, then), width: now.W}
	n := c.cols * c.rows
	c.level = make([]float32, n)
	for k := range c.times {
		c.added[k], c.times[k], c.plus[k] = make([]float32, n), make([]float32, n), make([]float32, n)
	}
	for k := range n {
		var all [3]float32
		for i := range c.box(k).Each(now.W) {
			addTo(&all, now, then, i)
		}
		for j := range all {
			c.added[j][k] = all[j]
		}
	}
	c.settle(max(1, int(Window*square/2/CellSide+0.5)))
	c.drown(int(drownedLeast * square * square / CellSide / CellSide))
	return c
}

// settle gives each cell the middle change of the cells around it: of the logarithms, or,
// where light came on top, of the levels, by which dark and light squares rise alike.
func (c *Change) settle(r int) {
	n := c.cols * c.rows
	factor, veil := c.middles(c.change[0], r), c.middles(c.greys(), r)
	for k := range n {
		if !factor.known[k] {
			continue
		}
		s := c.inliers(k, factor.reach(k, r), factor.of(k))
		a := c.veiled(k, veil.reach(k, r), veil.of(k))
		if s.change[0] > changed && s.reflects > 0.5 || a.reflects > 0.5 && a.share > s.share {
			for j := range c.plus {
				c.plus[j][k] = a.added[j]
			}
			c.level[k] = (a.added[0] + a.added[1] + a.added[2]) / 3 / greyUnit
			continue
		}
		for j := range c.times {
			c.times[j][k] = s.change[j]
		}
		c.level[k] = s.change[0]
	}
}

// middles are the middle values around all cells: of a wide neighbourhood, and of the near
// one where that surely shows what it did.
type middles struct {
	wide, near      []float32
	known, attested []bool
}

func (c *Change) middles(v []float32, r int) (m middles) {
	m.wide, m.known = weightedMedians(v, c.weight, c.cols, r, leastSupport)
	m.near, m.attested = weightedMedians(v, c.attest(), c.cols, attestedCells, attestedSupport)
	for k, is := range m.attested {
		m.known[k] = m.known[k] || is
	}
	return m
}

// reach is how far the neighbourhood of a cell goes, cells; r is that of a wide one.
func (m *middles) reach(k, r int) int {
	if m.attested[k] {
		return attestedCells
	}
	return r
}

// of is the middle value around a cell.
func (m *middles) of(k int) float32 {
	if m.attested[k] {
		return m.near[k]
	}
	return m.wide[k]
}

// greys are the mean changes of all channels, in units in which medians are found.
func (c *Change) greys() []float32 {
	g := make([]float32, len(c.level))
	for k := range g {
		g[k] = (c.added[0][k] + c.added[1][k] + c.added[2][k]) / 3 / greyUnit
	}
	return g
}

// OnlyReflections leaves nothing of the change but strong light that came on top, and says
// on how many pixels. A faint sheen stays where it is.
func (c *Change) OnlyReflections() int {
	n := 0
	for k := range c.level {
		isFaint := c.plus[0][k]+c.plus[1][k]+c.plus[2][k] < 3*strongVeil
		for j := range c.times {
			c.times[j][k] = 0
			if isFaint {
				c.plus[j][k] = 0
			}
		}
		if c.drowned[k] || c.plus[0][k] != 0 {
			n += CellSide * CellSide
		}
		if c.plus[0][k] == 0 {
			c.level[k] = 0
		}
	}
	return n
}

// attest is the weight of cells that surely show what they did.
func (c *cells) attest() []float32 {
	w := make([]float32, len(c.weight))
	for k, like := range c.likeness {
		if like > surelyAlike {
			w[k] = c.weight[k]
		}
	}
	return w
}

// light is what the cells of one light have in common.
type light struct {
	change, added [3]float32
	reflects      float32 // how surely it is light that came on top, 0–1
	share         float32 // of the neighbourhood that is in it
}

// around calls for the cells within r of one that say something.
func (c *Change) around(k, r int, each func(i int, w float32)) {
	x, y := k%c.cols, k/c.cols
	for v := max(0, y-r); v <= min(c.rows-1, y+r); v++ {
		for i := v*c.cols + max(0, x-r); i <= v*c.cols+min(c.cols-1, x+r); i++ {
			if w := c.weight[i]; w > 0 {
				each(i, w)
			}
		}
	}
}

// inliers is the mean over the cells around one whose change is about the middle one.
func (c *Change) inliers(k, r int, middle float32) light {
	return c.alike(k, r, func(i int) bool {
		d := c.change[0][i]
		return d >= middle-inlier && d <= middle+inlier
	})
}

// veiled is the mean over the cells around one to which about the middle light was added.
func (c *Change) veiled(k, r int, middle float32) light {
	middle *= greyUnit
	if middle < leastVeil {
		return light{}
	}
	within := max(leastVeil, veilInlier*middle)
	return c.alike(k, r, func(i int) bool {
		return abs((c.added[0][i]+c.added[1][i]+c.added[2][i])/3-middle) <= within
	})
}

// alike is the mean over some of the cells around one.
func (c *Change) alike(k, r int, is func(i int) bool) light {
	var s light
	var in, all, told, added float32
	c.around(k, r, func(i int, w float32) {
		all += w
		if !is(i) {
			return
		}
		in += w
		for j := range s.change {
			s.change[j] += w * c.change[j][i]
			s.added[j] += w * c.added[j][i]
		}
		if c.likeness[i] > alike {
			told += w
			if c.contrast[i] < (1+float32(math.Exp(float64(-c.change[0][i]))))/2 {
				added += w
			}
		}
	})
	if in == 0 {
		return s
	}
	for j := range s.change {
		s.change[j] /= in
		s.added[j] /= in
	}
	s.share = in / all
	if told > 0 {
		s.reflects = added / told
	}
	return s
}
