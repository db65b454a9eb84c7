// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"math"

	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Comparison is a picture compared with a remembered one in cells: where the
// structure that was there, lines, edges, grain and weave, can still be seen.
// Lamps and shadows add a smooth function to the logarithm of the brightness
// and leave its structure; a hand takes it away.
type Comparison struct {
	Grid
	kept  []float32 // evidence, nats a cell: above 0 that the structure is there, below that it is not
	most  []float32 // what kept would be if nothing had changed
	fresh []float32 // evidence of structure that was not there: about 0 where some only went, as in a dim light
	Tint  []float32 // change of both log colour ratios together, beyond the picture's own
	Depth []float32 // change of the brightness logarithm, likewise, absolute
	slopes
}

// Compare compares two images of one view; the light need not be the same.
func Compare(now, then *pixels.Image) *Comparison {
	c := &Comparison{Grid: Grid{now.W / CellSide, now.H / CellSide, now.W}, slopes: newSlopes(now, then)}
	n := c.Cols * c.Rows
	all := make([]float32, 5*n)
	for i, v := range []*[]float32{&c.kept, &c.most, &c.fresh, &c.Tint, &c.Depth} {
		*v = all[i*n : (i+1)*n : (i+1)*n]
	}
	for y := 1; y < c.Rows*CellSide && y < now.H-1; y++ {
		row := y / CellSide * c.Cols
		for x := 1; x < c.Cols*CellSide && x < now.W-1; x++ {
			i, k := y*now.W+x, row+x/CellSide
			if now.L[i] > pixels.Saturated {
				continue
			}
			v, g2, h2, d2 := c.at(i)
			c.fresh[k] += float32(numeric.Log((v + d2) / (v + h2)))
			if h2 < structureLeast*v {
				continue
			}
			v += slopeJitter * h2
			c.kept[k] += float32(numeric.Log((v + g2) / (v + d2)))
			c.most[k] += float32(numeric.Log((v + h2) / v))
		}
	}
	c.tints(now, then)
	return c
}

// slopes are the slopes of the brightness logarithm in two images of one view,
// without what changed evenly between them.
type slopes struct {
	now, then   *pixels.Image
	a, b        []float32 // the brightness of now and then
	noiseFactor float32
}

func newSlopes(now, then *pixels.Image) slopes {
	a := unshaded(now, then)
	return slopes{now, then, a, then.Softened(), slopeNoise(now, then, a)}
}

// at gives the squares of the slopes now and then at a pixel, and of their
// difference, and what noise makes of that: all in two pixels.
func (s *slopes) at(i int) (noise2, now2, then2, change2 float32) {
	w := s.now.W
	hx, hy := s.b[i+1]-s.b[i-1], s.b[i+w]-s.b[i-w]
	gx, gy := s.a[i+1]-s.a[i-1], s.a[i+w]-s.a[i-w]
	dx, dy := gx-hx, gy-hy
	n := max(s.now.Noise[i], s.then.Noise[i])
	return s.noiseFactor * n * n, gx*gx + gy*gy, hx*hx + hy*hy, dx*dx + dy*dy
}

// unshaded is the brightness of now without what changed evenly over a
// neighbourhood since then: shadows and their soft edges.
func unshaded(now, then *pixels.Image) []float32 {
	a, b := now.Softened(), then.Softened()
	change, even := make([]float32, len(a)), make([]float32, len(a))
	for i := range change {
		change[i] = a[i] - b[i]
	}
	pixels.Smooth(even, change, now.W, pixels.Box{X0: 0, Y0: 0, X1: now.W, Y1: now.H}, penumbra)
	for i := range even {
		even[i] = a[i] - even[i]
	}
	return even
}

// StructureRatios is by how much the structure around each pixel of a box is likelier
// if the pixel shows what it did, than if it shows something else: a ratio of
// densities. In the dark, in a glare and on even ground it is 1, and nowhere
// less: that structure is gone may be due to a neighbour that left.
func StructureRatios(now, then *pixels.Image, b pixels.Box) []float32 {
	out := make([]float32, len(now.L))
	for i := range out {
		out[i] = 1
	}
	s := newSlopes(now, then)
	for y := max(b.Y0, 1); y < min(b.Y1, now.H-1); y++ {
		for x := max(b.X0, 1); x < min(b.X1, now.W-1); x++ {
			i := y*now.W + x
			if now.L[i] > pixels.Saturated {
				continue
			}
			v, g2, h2, d2 := s.at(i)
			v += slopeJitter * h2
			k := numeric.Log((v + g2) / (v + d2))
			out[i] = float32(math.Exp(max(0, min(structureMost, k))))
		}
	}
	return out
}

// slopeNoise is the median square of a slope's change, over the square of the
// noise: what noise and registration make where nothing has changed.
func slopeNoise(now, then *pixels.Image, a []float32) float32 {
	const least = 0.05 // a picture compared with itself must not divide by nothing
	b, w := then.Softened(), now.W
	var v []float64
	for y := 1; y < now.H-1; y += 5 {
		for x := 1 + y%7; x < now.W-1; x += 7 {
			i := y*now.W + x
			dx := a[i+1] - a[i-1] - b[i+1] + b[i-1]
			dy := a[i+w] - a[i-w] - b[i+w] + b[i-w]
			noise := max(now.Noise[i], then.Noise[i])
			v = append(v, float64((dx*dx+dy*dy)/(noise*noise)))
		}
	}
	return float32(max(least, numeric.Median(v)))
}

// tints measures how far each cell's colour and brightness changed beyond the
// whole picture's change.
func (c *Comparison) tints(now, then *pixels.Image) {
	n := len(c.Tint)
	all := make([]float32, 3*n)
	change := [3][]float32{all[:n], all[n : 2*n], all[2*n:]}
	for k, planes := range [3][2][]float32{{now.L, then.L}, {now.A, then.A}, {now.B, then.B}} {
		v := make([]float64, 0, n/4+1)
		for j := range change[k] {
			at := j/c.Cols*CellSide*c.w + j%c.Cols*CellSide
			var sum float32
			for y := range CellSide {
				for i := at + y*c.w; i < at+y*c.w+CellSide; i++ {
					sum += planes[0][i] - planes[1][i]
				}
			}
			change[k][j] = sum / (CellSide * CellSide)
			if j%4 == 0 {
				v = append(v, float64(change[k][j]))
			}
		}
		common := float32(numeric.Median(v))
		for j := range change[k] {
			change[k][j] = float32(math.Abs(float64(change[k][j] - common)))
		}
	}
	for j := range c.Tint {
		c.Depth[j], c.Tint[j] = change[0][j], change[1][j]+change[2][j]
	}
}

// Visibility says whether the structure of a cell is seen again.
type Visibility uint8

const (
	Untold  Visibility = iota // too little structure, or half of it
	Visible                   // it is there
	Hidden                    // something covers it
)

// Visibilities judges every cell with its neighbours, and where they have too little
// structure, with theirs.
func (c *Comparison) Visibilities() []Visibility {
	near, nearMost := c.window(c.kept, 1), c.window(c.most, 1)
	wide, wideMost := c.window(c.kept, 2), c.window(c.most, 2)
	fresh := c.window(c.fresh, 2)
	out := make([]Visibility, len(near))
	for k := range out {
		v, most, least := near[k], nearMost[k], float32(structuredNear)
		if most < least {
			v, most, least = wide[k], wideMost[k], structuredWide
		}
		switch {
		case most < least:
		case v < hiddenShare*most && fresh[k] > freshLeast:
			out[k] = Hidden
		case v > plainShare*most:
			out[k] = Visible
		}
	}
	return out
}

// window averages over the cells within r of each.
func (c *Comparison) window(v []float32, r int) []float32 {
	out := make([]float32, len(v))
	pixels.Smooth(out, v, c.Cols, pixels.Box{X0: 0, Y0: 0, X1: c.Cols, Y1: c.Rows}, r)
	return out
}

// Grid is how an image is cut into cells.
type Grid struct {
	Cols, Rows int
	w          int // of the image
}

// Tinted says whether a cell's colour changed as no lamp changes it.
func (c *Comparison) Tinted(k int) bool { return c.Tint[k] > tintLeast+tintDepth*c.Depth[k] }

// Covered says whether a cell does not show what it did, given how its
// structure was seen.
func (c *Comparison) Covered(k int, s Visibility) bool {
	return s == Hidden || s == Untold && c.Tinted(k)
}

// richer is the evidence, nats a cell, that there is more structure than was:
// 0 where both pictures are bare.
func (c *Comparison) richer() []float32 {
	more := make([]float32, len(c.kept))
	for y := 1; y < c.Rows*CellSide && y < c.now.H-1; y++ {
		row := y / CellSide * c.Cols
		for x := 1; x < c.Cols*CellSide && x < c.w-1; x++ {
			if i := y*c.w + x; c.now.L[i] <= pixels.Saturated {
				v, g2, h2, _ := c.at(i)
				more[row+x/CellSide] += float32(numeric.Log((v + g2) / (v + h2)))
			}
		}
	}
	return more
}

// Unlike lists the cells that are strange, or bare where more structure is now.
func (c *Comparison) Unlike() []bool {
	more := c.window(c.richer(), 2)
	out := make([]bool, len(more))
	for k, s := range c.Visibilities() {
		out[k] = c.Covered(k, s) || s == Untold && more[k] > moreLeast
	}
	return out
}

// Middle is the pixel in the middle of a cell.
func (g Grid) Middle(k int) int {
	return (k/g.Cols*CellSide+CellSide/2)*g.w + k%g.Cols*CellSide + CellSide/2
}

// Mask are some cells of a grid.
type Mask struct {
	Grid
	On []bool
}

// Solid keeps the cells most of whose neighbours are marked too: lines that
// registration or a moved shadow leaves are thin.
func (c Mask) Solid() Mask {
	const most = 6 // of nine; at the picture's rim of those there are
	out := Mask{c.Grid, make([]bool, len(c.On))}
	for y := range c.Rows {
		for x := range c.Cols {
			n, of := 0, 0
			for v := max(0, y-1); v <= min(c.Rows-1, y+1); v++ {
				for u := max(0, x-1); u <= min(c.Cols-1, x+1); u++ {
					of++
					if c.On[v*c.Cols+u] {
						n++
					}
				}
			}
			out.On[y*c.Cols+x] = 9*n >= most*of
		}
	}
	return out
}

// NoiseDepth is the change of a cell's brightness logarithm that noise may make, by
// the median absolute deviation of all cells.
func (c *Comparison) NoiseDepth() float32 {
	v := make([]float64, len(c.Depth))
	for k, d := range c.Depth {
		v[k] = float64(d)
	}
	return float32(max(leastNoiseDepth, noiseSigmas*1.4826*numeric.Median(v)))
}
