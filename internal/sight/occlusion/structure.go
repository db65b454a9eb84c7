// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"math"
	"slices"

	"boardhand/internal/sight/light"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Comparison is a picture compared with a remembered one in cells: where the
// structure that was there, lines, edges, grain and weave, can still be seen.
// Lamps and shadows add a smooth function to the logarithm of the brightness
// and leave its structure; a hand takes it away. Cells are compared when somebody asks.
type Comparison struct {
	Grid
	Tint  []float32 // change of both log colour ratios together, beyond the picture's own
	Depth []float32 // change of the brightness logarithm, likewise, absolute
	slopes
	old           []evidence
	fresh, richer field
}

// evidence is what a cell says of the structure that was there.
type evidence struct {
	kept    float32 // nats: above 0 that it is there, below that it is not
	most    float32 // what kept would be if nothing had changed
	isFound bool
}

// Compare compares two images of one view; the light need not be the same.
func Compare(now, then *pixels.Image) *Comparison {
	c := &Comparison{Grid: Grid{now.W / CellSide, now.H / CellSide, now.W}, slopes: newSlopes(now, then)}
	n := c.Cols * c.Rows
	c.old, c.fresh, c.richer = make([]evidence, n), newField(n), newField(n)
	c.tints(now, then)
	return c
}

// oldIn is the evidence of a cell of the structure that was there. A row of four has one
// logarithm: that of a product.
func (c *Comparison) oldIn(k int) *evidence {
	e := &c.old[k]
	if e.isFound {
		return e
	}
	e.isFound = true
	noise, noiseThen, bright, soft, w := c.now.Noise, c.then.Noise, c.now.L, c.soft, c.w
	for b, y := c.inner(k), c.inner(k).Y0; y < b.Y1; y++ {
		kept, most, changed, nothing := float32(1), float32(1), float32(1), float32(1)
		for i := y*w + b.X0; i < y*w+b.X1; i++ {
			hx, hy := soft[i+1]-soft[i-1], soft[i+w]-soft[i-w]
			m, h2 := max(noise[i], noiseThen[i]), hx*hx+hy*hy
			v := c.noiseFactor * m * m
			if h2 < light.Structured*v || bright[i] > pixels.Saturated {
				continue
			}
			dx, dy := c.change(i)
			gx, gy := hx+dx, hy+dy
			g2, d2 := gx*gx+gy*gy, dx*dx+dy*dy
			v += slopeJitter * h2
			kept, changed = kept*(v+g2), changed*(v+d2)
			most, nothing = most*(v+h2), nothing*v
		}
		if nothing != 1 {
			e.kept += float32(numeric.Log(kept / changed))
			e.most += float32(numeric.Log(most / nothing))
		}
	}
	return e
}

// inner is the pixels of a cell that have neighbours all around.
func (c *Comparison) inner(k int) pixels.Box {
	x, y := k%c.Cols*CellSide, k/c.Cols*CellSide
	return pixels.Box{X0: max(1, x), Y0: max(1, y), X1: min(x+CellSide, c.w-1), Y1: min(y+CellSide, c.now.H-1)}
}

// slopes are the slopes of the brightness logarithm in two images of one view,
// without what changed evenly between them: shadows and their soft edges.
type slopes struct {
	now, then          *pixels.Image
	detail, detailThen []float32
	soft               []float32 // the brightness of then
	noiseFactor        float32
}

func newSlopes(now, then *pixels.Image) slopes {
	s := slopes{now: now, then: then, detail: now.Detail(), detailThen: then.Detail(), soft: then.Softened()}
	s.noiseFactor = s.noise()
	return s
}

// change is the change of the slope at a pixel that is not at the rim, in two pixels.
func (s *slopes) change(i int) (dx, dy float32) {
	a, b, w := s.detail, s.detailThen, s.now.W
	return a[i+1] - a[i-1] - (b[i+1] - b[i-1]), a[i+w] - a[i-w] - (b[i+w] - b[i-w])
}

// at gives the squares of the slopes now and then at a pixel that is not at the rim, and of
// their difference, and what noise makes of that: all in two pixels.
func (s *slopes) at(i int) (noise2, now2, then2, change2 float32) {
	hx, hy := s.soft[i+1]-s.soft[i-1], s.soft[i+s.now.W]-s.soft[i-s.now.W]
	dx, dy := s.change(i)
	gx, gy := hx+dx, hy+dy
	n := max(s.now.Noise[i], s.then.Noise[i])
	return s.noiseFactor * n * n, gx*gx + gy*gy, hx*hx + hy*hy, dx*dx + dy*dy
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
		for i := y*now.W + max(b.X0, 1); i < y*now.W+min(b.X1, now.W-1); i++ {
			if now.L[i] > pixels.Saturated {
				continue
			}
			v, g2, h2, d2 := s.at(i)
			v += slopeJitter * h2
			out[i] = min(mostRatio, max(1, (v+g2)/(v+d2)))
		}
	}
	return out
}

// mostRatio is the ratio of structureMost.
var mostRatio = float32(math.Exp(structureMost))

// noise is the median square of a slope's change, over the square of the
// noise: what noise and registration make where nothing has changed.
func (s *slopes) noise() float32 {
	const least = 0.05 // a picture compared with itself must not divide by nothing
	w, h := s.now.W, s.now.H
	v := make([]float64, 0, (h/5+1)*(w/7+1))
	for y := 1; y < h-1; y += 5 {
		for x := 1 + y%7; x < w-1; x += 7 {
			i := y*w + x
			dx, dy := s.change(i)
			noise := max(s.now.Noise[i], s.then.Noise[i])
			v = append(v, float64((dx*dx+dy*dy)/(noise*noise)))
		}
	}
	return float32(max(least, numeric.Median(v)))
}

// tints measures how far each cell's colour and brightness changed beyond the
// whole picture's change.
func (c *Comparison) tints(now, then *pixels.Image) {
	a, b, n := now.Means(), then.Means(), c.Cols*c.Rows
	c.Depth, c.Tint = make([]float32, n), make([]float32, n)
	v := make([]float64, 0, n/4+1)
	for k, to := range [3][]float32{c.Depth, c.Tint, c.Tint} {
		v = v[:0]
		for j := 0; j < n; j += 4 {
			v = append(v, float64(a[k][j]-b[k][j]))
		}
		common := float32(numeric.Median(v))
		for j := range to {
			to[j] += float32(math.Abs(float64(a[k][j] - b[k][j] - common)))
		}
	}
}

// Visibility says whether the structure of a cell is seen again.
type Visibility uint8

const (
	Untold  Visibility = iota // too little structure, or half of it
	Visible                   // it is there
	Hidden                    // something covers it
)

// visibility judges a cell with its neighbours, and where they have too little structure,
// with theirs.
func (c *Comparison) visibility(k int) Visibility {
	kept, most := c.oldAround(k, 1)
	least := float32(structuredNear)
	if most < least {
		kept, most = c.oldAround(k, 2)
		least = structureLeast
	}
	switch {
	case most < least:
	case kept < hiddenShare*most && c.around(k, c.fresh, isFresh) > structureLeast:
		return Hidden
	case kept > plainShare*most:
		return Visible
	}
	return Untold
}

// oldAround averages the evidence of old structure over the cells within r of one.
func (c *Comparison) oldAround(k, r int) (kept, most float32) {
	b := c.near(k, r)
	for y := b.Y0; y < b.Y1; y++ {
		for x := b.X0; x < b.X1; x++ {
			e := c.oldIn(y*c.Cols + x)
			kept, most = kept+e.kept, most+e.most
		}
	}
	n := float32((b.X1 - b.X0) * (b.Y1 - b.Y0))
	return kept / n, most / n
}

// Grid is how an image is cut into cells.
type Grid struct {
	Cols, Rows int
	w          int // of the image
}

// Tinted says whether a cell's colour changed as no lamp changes it.
func (c *Comparison) Tinted(k int) bool { return c.Tint[k] > light.Tint+tintDepth*c.Depth[k] }

// isCovered says whether a cell does not show what it did, given how its
// structure was seen.
func (c *Comparison) isCovered(k int, s Visibility) bool {
	return s == Hidden || s == Untold && c.Tinted(k)
}

// isUnlike says whether a cell is strange, or bare where more structure is now.
func (c *Comparison) isUnlike(k int) bool {
	s := c.visibility(k)
	return c.isCovered(k, s) || s == Untold && c.around(k, c.richer, isRicher) > moreLeast
}

// Middle is the pixel in the middle of a cell.
func (g Grid) Middle(k int) int {
	return (k/g.Cols*CellSide+CellSide/2)*g.w + k%g.Cols*CellSide + CellSide/2
}

// near is the cells within r of one.
func (g Grid) near(k, r int) pixels.Box {
	x, y := k%g.Cols, k/g.Cols
	return pixels.Box{X0: max(0, x-r), Y0: max(0, y-r), X1: min(g.Cols, x+r+1), Y1: min(g.Rows, y+r+1)}
}

// Mask are some cells of a grid.
type Mask struct {
	Grid
	On []bool
}

// Solid keeps the cells most of whose neighbours are marked too: lines that
// registration or a moved shadow leaves are thin.
func (c Mask) Solid() Mask {
	out := Mask{c.Grid, make([]bool, len(c.On))}
	for y := range c.Rows {
		if !slices.Contains(c.On[max(0, y-1)*c.Cols:min(c.Rows, y+2)*c.Cols], true) {
			continue
		}
		for x := range c.Cols {
			n, of := 0, 0
			b := c.near(y*c.Cols+x, 1)
			for v := b.Y0; v < b.Y1; v++ {
				for _, on := range c.On[v*c.Cols+b.X0 : v*c.Cols+b.X1] {
					of++
					if on {
						n++
					}
				}
			}
			out.On[y*c.Cols+x] = 9*n >= pixels.SolidFrom*of // at the picture's rim of those there are
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
