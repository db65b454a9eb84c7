// SPDX-License-Identifier: Apache-2.0

package light

import "boardhand/internal/sight/pixels"

// cells are two pictures of one view, cell by cell.
type cells struct {
	cols, rows int
	change     [3][]float32 // mean change of L, A, B
	full       []float32    // share of pixels at the camera's upper end
	likeness   []float32    // correlation of the structure of both, −1 to 1, over a neighbourhood
	contrast   []float32    // slope now over slope then, likewise
	weight     []float32    // how much the change says of the light
}

func newCells(now, raw, then *pixels.Image) *cells {
	c := &cells{cols: now.W / CellSide, rows: now.H / CellSide}
	n := c.cols * c.rows
	all := make([]float32, 7*n)
	part := func() []float32 { p := all[:n:n]; all = all[n:]; return p }
	for k := range c.change {
		c.change[k] = part()
	}
	c.full, c.likeness, c.contrast, c.weight = part(), part(), part(), part()
	c.average(now, raw, then)
	c.compare(now, then)
	return c
}

// slopeNoise is the mean square of a slope of the softened brightness over that of a
// pixel's noise: two means of nine pixels, in both directions.
const slopeNoise = 2 * 2.0 / 9

// share is that of a pixel in its cell.
const share = 1.0 / (CellSide * CellSide)

// box is a cell's pixels.
func (c *cells) box(k int) pixels.Box {
	x, y := k%c.cols*CellSide, k/c.cols*CellSide
	return pixels.Box{X0: x, Y0: y, X1: x + CellSide, Y1: y + CellSide}
}

// addTo adds a pixel's part to its cell's mean change of the light of red, green and blue,
// of 255.
func addTo(sum *[3]float32, now, then *pixels.Image, i int) {
	a, b := linear(now, i), linear(then, i)
	for j := range sum {
		sum[j] += share * (a[j] - b[j])
	}
}

// average fills the means of each cell.
func (c *cells) average(now, raw, then *pixels.Image) {
	for y := range c.rows * CellSide {
		row := y / CellSide * c.cols
		for x := range c.cols * CellSide {
			i, k := y*now.W+x, row+x/CellSide
			c.change[0][k] += share * (now.L[i] - then.L[i])
			c.change[1][k] += share * (now.A[i] - then.A[i])
			c.change[2][k] += share * (now.B[i] - then.B[i])
			if raw.L[i] > pixels.Saturated {
				c.full[k] += share
			}
		}
	}
}

// compare compares the structure around each cell, and weighs its change.
func (c *cells) compare(now, then *pixels.Image) {
	n := c.cols * c.rows
	all := make([]float32, 8*n)
	var sums, pooled [4][]float32 // slopes then², now², then·now, noise²
	for k := range sums {
		sums[k], pooled[k] = all[2*k*n:(2*k+1)*n], all[(2*k+1)*n:(2*k+2)*n]
	}
	a, b, w := now.Softened(), then.Softened(), now.W
	for y := 1; y < c.rows*CellSide && y < now.H-1; y++ {
		row := y / CellSide * c.cols
		for x := 1; x < c.cols*CellSide && x < w-1; x++ {
			i, k := y*w+x, row+x/CellSide
			gx, gy, hx, hy := a[i+1]-a[i-1], a[i+w]-a[i-w], b[i+1]-b[i-1], b[i+w]-b[i-w]
			sums[0][k] += hx*hx + hy*hy
			sums[1][k] += gx*gx + gy*gy
			sums[2][k] += gx*hx + gy*hy
			v := max(now.Noise[i], then.Noise[i])
			sums[3][k] += slopeNoise * v * v
		}
	}
	whole := pixels.Box{X0: 0, Y0: 0, X1: c.cols, Y1: c.rows}
	for k := range sums {
		pixels.Smooth(pooled[k], sums[k], c.cols, whole, neighbourhood)
	}
	for k := range n {
		hh, gg, gh, noise := pooled[0][k], pooled[1][k], pooled[2][k], pooled[3][k]
		c.contrast[k] = gh / (hh + 1e-9)
		c.likeness[k] = gh / (root(gg*hh) + 1e-9)
		switch like := c.likeness[k]; {
		case c.full[k] > 0.5:
			c.weight[k] = weighFull
		case like > alike:
			c.weight[k] = like * like
		case hh > structured*noise && gg > structured*noise:
			c.weight[k] = weighUnlike
		default:
			c.weight[k] = weighPlain
		}
	}
}
