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

// newCells compares two pictures in a box of cells; raw is now as it came from the camera.
func newCells(now, raw, then *pixels.Image, in pixels.Box) *cells {
	c := &cells{cols: now.W / CellSide, rows: now.H / CellSide}
	n := c.cols * c.rows
	all := make([]float32, 7*n)
	part := func() []float32 { p := all[:n:n]; all = all[n:]; return p }
	for k := range c.change {
		c.change[k] = part()
	}
	c.full, c.likeness, c.contrast, c.weight = part(), part(), part(), part()
	c.average(now, raw, then, in)
	c.compare(now, then, in)
	return c
}

// wholeOf is all cells of a picture.
func wholeOf(p *pixels.Image) pixels.Box { return pixels.Box{X1: p.W / CellSide, Y1: p.H / CellSide} }

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

// average fills the means of each cell, and how much of those in a box is at the camera's upper end.
func (c *cells) average(now, raw, then *pixels.Image, in pixels.Box) {
	a, b := now.Means(), then.Means()
	for j, to := range c.change {
		for k := range to {
			to[k] = a[j][k] - b[j][k]
		}
	}
	for y := in.Y0 * CellSide; y < in.Y1*CellSide; y++ {
		full := c.full[y/CellSide*c.cols+in.X0:]
		for x, l := range raw.L[y*now.W+in.X0*CellSide:][:(in.X1-in.X0)*CellSide] {
			if l > pixels.Saturated {
				full[x/CellSide] += share
			}
		}
	}
}

// compare compares the structure around each cell of a box, and weighs its change.
func (c *cells) compare(now, then *pixels.Image, in pixels.Box) {
	n := c.cols * c.rows
	all := make([]float32, 8*n)
	var sums, pooled [4][]float32 // slopes then², now², then·now, noise²
	for k := range sums {
		sums[k], pooled[k] = all[2*k*n:(2*k+1)*n], all[(2*k+1)*n:(2*k+2)*n]
	}
	a, b, w := now.Softened(), then.Softened(), now.W
	for y := max(1, in.Y0*CellSide); y < min(in.Y1*CellSide, now.H-1); y++ {
		for x := in.X0; x < in.X1; x++ {
			k := y/CellSide*c.cols + x
			hh, gg, gh, noise := sums[0][k], sums[1][k], sums[2][k], sums[3][k]
			for i := y*w + max(1, x*CellSide); i < y*w+min((x+1)*CellSide, w-1); i++ {
				gx, gy, hx, hy := a[i+1]-a[i-1], a[i+w]-a[i-w], b[i+1]-b[i-1], b[i+w]-b[i-w]
				v := max(now.Noise[i], then.Noise[i])
				hh, gg, gh, noise = hh+(hx*hx+hy*hy), gg+(gx*gx+gy*gy), gh+(gx*hx+gy*hy), noise+slopeNoise*v*v
			}
			sums[0][k], sums[1][k], sums[2][k], sums[3][k] = hh, gg, gh, noise
		}
	}
	for k := range sums {
		pixels.Smooth(pooled[k], sums[k], c.cols, in, neighbourhood)
	}
	for k := range in.Each(c.cols) {
		hh, gg, gh, noise := pooled[0][k], pooled[1][k], pooled[2][k], pooled[3][k]
		c.contrast[k] = gh / (hh + 1e-9)
		c.likeness[k] = gh / (root(gg*hh) + 1e-9)
		switch like := c.likeness[k]; {
		case c.full[k] > 0.5:
			c.weight[k] = weighFull
		case like > alike:
			c.weight[k] = like * like
		case hh > Structured*noise && gg > Structured*noise:
			c.weight[k] = weighUnlike
		default:
			c.weight[k] = weighPlain
		}
	}
}
