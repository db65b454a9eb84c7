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
	Tint  []float32 // change of both log colour ratios together, beyond the picture's own
	Depth []float32 // change of the brightness logarithm, likewise, absolute
	slopes
}

// Compare compares two images of one view; the light need not be the same.
func Compare(now, then *pixels.Image) *Comparison {
	c := &Comparison{Grid: Grid{now.W / CellSide, now.H / CellSide, now.W}, slopes: newSlopes(now, then)}
	n := c.Cols * c.Rows
	all := make([]float32, 4*n)
	for i, v := range []*[]float32{&c.kept, &c.most, &c.Tint, &c.Depth} {
		*v = all[i*n : (i+1)*n : (i+1)*n]
	}
	for y := 1; y < c.Rows*CellSide && y < now.H-1; y++ {
		row := y / CellSide * c.Cols
		c.compareRow(y, c.kept[row:row+c.Cols], c.most[row:row+c.Cols])
	}
	c.tints(now, then)
	return c
}

// compareRow adds the evidence of a row of pixels to that of its cells.
func (c *Comparison) compareRow(y int, kept, most []float32) {
	r := c.row(y)
	n := min(c.Cols*CellSide, c.w-1)
	light, left, right := c.now.L[y*c.w:][:n], r.then[:n], r.then[2:]
	up, down, noise, noiseThen := r.upThen[:n], r.downThen[:n], r.noise[:n], r.noiseThen[:n]
	for x := 1; x < n; x++ {
		hx, hy := right[x-1]-left[x-1], down[x]-up[x]
		m := noise[x]
		if k := noiseThen[x]; k > m {
			m = k
		}
		if hx*hx+hy*hy < structureLeast*(c.noiseFactor*m*m) || light[x] > pixels.Saturated {
			continue
		}
		v, g2, h2, d2 := r.at(x)
		k := x / CellSide
		v += slopeJitter * h2
		kept[k] += float32(numeric.Log((v + g2) / (v + d2)))
		most[k] += float32(numeric.Log((v + h2) / v))
	}
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

// slopesRow is a row of them, with the rows above and below.
type slopesRow struct {
	up, here, down         []float32 // of now
	upThen, then, downThen []float32
	noise, noiseThen       []float32
	noiseFactor            float32
}

// row is a row of the slopes, neither the first nor the last.
func (s *slopes) row(y int) slopesRow {
	w := s.now.W
	of := func(v []float32, y int) []float32 { return v[y*w:][:w] }
	return slopesRow{of(s.a, y-1), of(s.a, y), of(s.a, y+1), of(s.b, y-1), of(s.b, y), of(s.b, y+1),
		of(s.now.Noise, y), of(s.then.Noise, y), s.noiseFactor}
}

// at gives the squares of the slopes now and then at a pixel of the row, and of their
// difference, and what noise makes of that: all in two pixels.
func (r *slopesRow) at(x int) (noise2, now2, then2, change2 float32) {
	hx, hy := r.then[x+1]-r.then[x-1], r.downThen[x]-r.upThen[x]
	gx, gy := r.here[x+1]-r.here[x-1], r.down[x]-r.up[x]
	dx, dy := gx-hx, gy-hy
	n := r.noise[x]
	if m := r.noiseThen[x]; m > n {
		n = m
	}
	return r.noiseFactor * n * n, gx*gx + gy*gy, hx*hx + hy*hy, dx*dx + dy*dy
}

// unshaded is the brightness of now without what changed evenly over a
// neighbourhood since then: shadows and their soft edges.
func unshaded(now, then *pixels.Image) []float32 {
	a, b := now.Softened(), then.Softened()
	room := pixels.Borrow(len(a))
	defer room.Return()
	change, even, b := room.V, make([]float32, len(a)), b[:len(a)]
	for i, v := range a {
		change[i] = v - b[i]
	}
	pixels.Smooth(even, change, now.W, pixels.Box{X0: 0, Y0: 0, X1: now.W, Y1: now.H}, penumbra)
	for i, v := range a {
		even[i] = v - even[i]
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
		r := s.row(y)
		light, to := now.L[y*now.W:][:now.W], out[y*now.W:][:now.W]
		for x := max(b.X0, 1); x < min(b.X1, now.W-1); x++ {
			if light[x] > pixels.Saturated {
				continue
			}
			v, g2, h2, d2 := r.at(x)
			v += slopeJitter * h2
			switch k := numeric.Log((v + g2) / (v + d2)); {
			case k >= structureMost:
				to[x] = mostRatio
			case k > 0:
				to[x] = float32(math.Exp(k))
			}
		}
	}
	return out
}

// mostRatio is the ratio of structureMost.
var mostRatio = float32(math.Exp(structureMost))

// slopeNoise is the median square of a slope's change, over the square of the
// noise: what noise and registration make where nothing has changed.
func slopeNoise(now, then *pixels.Image, a []float32) float32 {
	const least = 0.05 // a picture compared with itself must not divide by nothing
	b, w := then.Softened(), now.W
	v := make([]float64, 0, (now.H/5+1)*(w/7+1))
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
		for y := range c.Rows * CellSide {
			addChanges(change[k][y/CellSide*c.Cols:][:c.Cols], planes[0][y*c.w:], planes[1][y*c.w:])
		}
		for j := range change[k] {
			change[k][j] /= CellSide * CellSide
		}
	}
	for k := range change {
		v := make([]float64, 0, n/4+1)
		for j := 0; j < n; j += 4 {
			v = append(v, float64(change[k][j]))
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

// addChanges adds the changes of a row of pixels to its cells' sums.
func addChanges(sums, now, then []float32) {
	for k, s := range sums {
		a, b := now[CellSide*k:][:CellSide], then[CellSide*k:][:CellSide]
		for i := range CellSide {
			s += a[i] - b[i]
		}
		sums[k] = s
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
	fresh := c.newStructure((*slopesRow).fresh)
	out := make([]Visibility, len(near))
	for k := range out {
		v, most, least := near[k], nearMost[k], float32(structuredNear)
		if most < least {
			v, most, least = wide[k], wideMost[k], structuredWide
		}
		switch {
		case most < least:
		case v < hiddenShare*most && fresh.around(k) > freshLeast:
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

// Unlike lists those of some cells that are strange, or bare where more structure is now.
func (c *Comparison) Unlike(asked func(k int) bool) []bool {
	more := c.newStructure((*slopesRow).richer)
	seen := c.Visibilities()
	out := make([]bool, len(seen))
	for k, s := range seen {
		out[k] = asked(k) && (c.Covered(k, s) || s == Untold && more.around(k) > moreLeast)
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
