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
	found   [][2]int32   // by cell: those with the least light and, one on, the most about it; 0, 0: not yet

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
		if d := now.L[i] - then(i).L[i]; d > Changed || d < -Changed {
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
		if now.L[i]-then(i).L[i] > Changed {
			n++
		}
	}
	return float64(n) > brighterShare*float64(len(where))
}

// Between finds how the light changed: now is a picture brought as near to the light of
// then as one smooth function does it, raw the same as it came from the camera; square is
// the side of a square of the board, pixels.
func Between(now, raw, then *pixels.Image, square float64) *Change {
	c := &Change{cells: *newCells(now, raw, then, wholeOf(now)), width: now.W}
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
	greys := c.greys()
	factor, veil := c.middles(c.change[0], r), c.middles(greys, r)
	signs := c.signs()
	changes, veils := pool{c.change[0], &c.change, signs}, pool{greys, &c.added, signs}
	for k := range c.level {
		if !factor.known[k] {
			continue
		}
		s, change := c.alike(k, factor.reach(k, r), &changes, inliers(factor.of(k)))
		a, added := c.alike(k, veil.reach(k, r), &veils, veiled(veil.of(k)))
		if change[0] > Changed && s.reflects > 0.5 || a.reflects > 0.5 && a.share > s.share {
			for j := range c.plus {
				c.plus[j][k] = added[j]
			}
			c.level[k] = (added[0] + added[1] + added[2]) / 3 / greyUnit
			continue
		}
		for j := range c.times {
			c.times[j][k] = change[j]
		}
		c.level[k] = change[0]
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

// light is one light: a change of L, A and B, and light of red, green and blue on top.
type light struct{ change, added [3]float32 }

// span is from one value to another, both in it; the second less than the first: none.
type span [2]float32

// inliers are the changes about a middle one.
func inliers(middle float32) span { return span{middle - inlier, middle + inlier} }

// veiled is the light, over greyUnit, about a middle one.
func veiled(middle float32) span {
	if middle < leastVeil/greyUnit {
		return span{1, 0}
	}
	within := max(leastVeil/greyUnit, veilInlier*middle)
	return span{middle - within, middle + within}
}

// pool is what cells are alike in: a value of each, of what the mean is wanted, and the signs
// that light came on top.
type pool struct {
	value []float32
	means *[3][]float32
	signs
}

// signs are the cells whose structure says whether light came on top, by their weight, and
// of these those that say so.
type signs struct{ told, added []float32 }

func (c *Change) signs() signs {
	s := signs{make([]float32, len(c.weight)), make([]float32, len(c.weight))}
	for k, like := range c.likeness {
		if like > alike {
			s.told[k] = c.weight[k]
			if c.contrast[k] < (1+float32(math.Exp(float64(-c.change[0][k]))))/2 {
				s.added[k] = c.weight[k]
			}
		}
	}
	return s
}

// company is what cells about one have in common.
type company struct {
	share    float32 // of the neighbourhood that is alike
	reflects float32 // how surely it is light that came on top, 0–1
}

// alike is the mean over the cells around one whose value lies in a span.
func (c *Change) alike(k, r int, p *pool, in span) (s company, mean [3]float32) {
	if in[1] < in[0] {
		return s, mean
	}
	var some, all, told, added float32
	x, y := k%c.cols, k/c.cols
	x0, n := max(0, x-r), min(c.cols, x+r+1)-max(0, x-r)
	for row := max(0, y-r) * c.cols; row <= min(c.rows-1, y+r)*c.cols; row += c.cols {
		value, weight := p.value[row+x0:][:n], c.weight[row+x0:][:n]
		toldBy, addedBy := p.told[row+x0:][:n], p.added[row+x0:][:n]
		of, of1, of2 := p.means[0][row+x0:][:n], p.means[1][row+x0:][:n], p.means[2][row+x0:][:n]
		for i, w := range weight {
			all += w
			if v := value[i]; v < in[0] || v > in[1] {
				continue
			}
			some += w
			mean[0], mean[1], mean[2] = mean[0]+w*of[i], mean[1]+w*of1[i], mean[2]+w*of2[i]
			told, added = told+toldBy[i], added+addedBy[i]
		}
	}
	if some == 0 {
		return s, mean
	}
	for j := range mean {
		mean[j] /= some
	}
	s.share = some / all
	if told > 0 {
		s.reflects = added / told
	}
	return s, mean
}
