// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Change is how the light changed, cell by cell.
type Change struct {
	cells
	added [3][]float32 // mean change of red, green, blue, levels of 255
	times [3][]float32 // of L, A, B: in the logarithm, to be taken off
	level []float32    // by how much the brightness logarithm rose, in either way
	plus  [3][]float32 // red, green, blue, levels of 255: a reflection, to be taken off; then times is 0
}

func root(v float32) float32 { return float32(math.Sqrt(float64(v))) }

// IsElsewhere says whether much of the board is in another light, by some pixels of it.
func IsElsewhere(now *pixels.Image, then func(int32) *pixels.Image, where []int32) bool {
	n := 0
	for _, i := range where {
		if d := now.L[i] - then(i).L[i]; d > changed || d < -changed {
			n++
		}
	}
	return float64(n) > changedShare*float64(len(where))
}

// Between finds how the light changed: now is a picture brought as near to the light of
// then as one smooth function does it, raw the same as it came from the camera; square is
// the side of a square of the board, pixels.
func Between(now, raw, then *pixels.Image, square float64) *Change {
	c := &Change{cells: *newCells(now, raw, then)}
	n := c.cols * c.rows
	c.level = make([]float32, n)
	for k := range c.times {
		c.added[k], c.times[k], c.plus[k] = make([]float32, n), make([]float32, n), make([]float32, n)
	}
	for k := range n {
		var sum [3]float32
		for i := range c.box(k).Each(now.W) {
			addTo(&sum, now, then, i)
		}
		for j := range sum {
			c.added[j][k] = sum[j]
		}
	}
	c.settle(max(1, int(Window*square/2/CellSide+0.5)))
	return c
}

// settle gives each cell the middle change of the cells around it.
func (c *Change) settle(r int) {
	n := c.cols * c.rows
	middle, known := weightedMedians(c.change[0], c.weight, c.cols, r, leastSupport)
	near, attested := weightedMedians(c.change[0], c.attest(), c.cols, attestedCells, attestedSupport)
	reflects := make([]float32, n)
	for k := range n {
		r, of := r, middle[k]
		if attested[k] {
			r, of = attestedCells, near[k]
		} else if !known[k] {
			continue
		}
		s := c.inliers(k, r, of)
		for j := range c.times {
			c.times[j][k], c.plus[j][k] = s.change[j], s.added[j]
		}
		c.level[k], reflects[k] = s.change[0], s.reflects
	}
	for k := range n {
		drop := &c.plus
		if reflects[k] > 0.5 {
			drop = &c.times
		}
		for j := range drop {
			drop[j][k] = 0
		}
	}
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
}

// inliers is the mean over the cells around one whose change is about the middle one.
func (c *Change) inliers(k, r int, middle float32) light {
	var s light
	var sum, told, added float32
	x, y := k%c.cols, k/c.cols
	for v := max(0, y-r); v <= min(c.rows-1, y+r); v++ {
		for u := max(0, x-r); u <= min(c.cols-1, x+r); u++ {
			i := v*c.cols + u
			w, d := c.weight[i], c.change[0][i]
			if w == 0 || d < middle-inlier || d > middle+inlier {
				continue
			}
			sum += w
			for j := range s.change {
				s.change[j] += w * c.change[j][i]
				s.added[j] += w * c.added[j][i]
			}
			if c.likeness[i] > alike {
				told += w
				if c.contrast[i] < (1+float32(math.Exp(float64(-d))))/2 {
					added += w
				}
			}
		}
	}
	if sum == 0 {
		return s
	}
	for j := range s.change {
		s.change[j] /= sum
		s.added[j] /= sum
	}
	if s.change[0] > changed && told > 0 {
		s.reflects = added / told
	}
	return s
}
