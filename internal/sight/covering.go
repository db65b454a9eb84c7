package sight

import (
	"math"

	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// covering is a picture compared with a remembered one in cells: where the
// structure that was there, lines, edges, grain and weave, can still be seen.
// Lamps and shadows add a smooth function to the logarithm of the brightness
// and leave its structure; a hand takes it away.
type covering struct {
	grid
	kept  []float32 // evidence, nats a cell: above 0 that the structure is there, below that it is not
	most  []float32 // what kept would be if nothing had changed
	fresh []float32 // evidence of structure that was not there: about 0 where some only went, as in a dim light
	tint  []float32 // change of both log colour ratios together, beyond the picture's own
	depth []float32 // change of the brightness logarithm, likewise, absolute
	slopes
}

const (
	coverCell = 4 // plate pixels a cell, each way: 4 mm
	// relief is how far, in squares of what noise does to a slope, a slope
	// must stand out to count as structure: noise does so one time in 250.
	relief = 4.0
	// waver is the relative change of a slope that registration and focus
	// leave, squared.
	waver = 0.04
)

// newCovering compares two plates of one view; the light need not be the same.
func newCovering(now, then *pixels.Image) *covering {
	c := &covering{grid: grid{now.W / coverCell, now.H / coverCell, now.W}, slopes: newSlopes(now, then)}
	n := c.cols * c.rows
	all := make([]float32, 5*n)
	for i, v := range []*[]float32{&c.kept, &c.most, &c.fresh, &c.tint, &c.depth} {
		*v = all[i*n : (i+1)*n : (i+1)*n]
	}
	for y := 1; y < c.rows*coverCell && y < now.H-1; y++ {
		row := y / coverCell * c.cols
		for x := 1; x < c.cols*coverCell && x < now.W-1; x++ {
			i, k := y*now.W+x, row+x/coverCell
			if now.L[i] > dazzled {
				continue
			}
			v, g2, h2, d2 := c.at(i)
			c.fresh[k] += float32(numeric.Log((v + d2) / (v + h2)))
			if h2 < relief*v {
				continue
			}
			v += waver * h2
			c.kept[k] += float32(numeric.Log((v + g2) / (v + d2)))
			c.most[k] += float32(numeric.Log((v + h2) / v))
		}
	}
	c.tints(now, then)
	return c
}

// slopes are the slopes of the brightness logarithm in two plates of one view,
// without what changed evenly between them.
type slopes struct {
	now, then *pixels.Image
	a, b      []float32 // the brightness of now and then
	unrest    float32
}

func newSlopes(now, then *pixels.Image) slopes {
	a := unshaded(now, then)
	return slopes{now, then, a, then.Softened(), unrest(now, then, a)}
}

// at gives the squares of the slopes now and then at a pixel, and of their
// difference, and what noise makes of that: all in two plate pixels.
func (s *slopes) at(i int) (noise2, now2, then2, change2 float32) {
	w := s.now.W
	hx, hy := s.b[i+1]-s.b[i-1], s.b[i+w]-s.b[i-w]
	gx, gy := s.a[i+1]-s.a[i-1], s.a[i+w]-s.a[i-w]
	dx, dy := gx-hx, gy-hy
	n := max(s.now.Noise[i], s.then.Noise[i])
	return s.unrest * n * n, gx*gx + gy*gy, hx*hx + hy*hy, dx*dx + dy*dy
}

// penumbra is how many plate pixels to each side a shadow's edge is even.
const penumbra = 4

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

// reliefMost is how many nats the structure at one pixel can speak: a glint or
// a shadow's hard edge must not outvote its neighbours.
const reliefMost = 2.0

// reliefs is by how much the structure around each pixel of a box is likelier
// if the pixel shows what it did, than if it shows something else: a ratio of
// densities. In the dark, in a glare and on even ground it is 1, and nowhere
// less: that structure is gone may be due to a neighbour that left.
func reliefs(now, then *pixels.Image, b pixels.Box) []float32 {
	out := make([]float32, len(now.L))
	for i := range out {
		out[i] = 1
	}
	s := newSlopes(now, then)
	for y := max(b.Y0, 1); y < min(b.Y1, now.H-1); y++ {
		for x := max(b.X0, 1); x < min(b.X1, now.W-1); x++ {
			i := y*now.W + x
			if now.L[i] > dazzled {
				continue
			}
			v, g2, h2, d2 := s.at(i)
			v += waver * h2
			k := numeric.Log((v + g2) / (v + d2))
			out[i] = float32(math.Exp(max(0, min(reliefMost, k))))
		}
	}
	return out
}

// dazzled is the logarithm of a brightness near the camera's upper end, where
// structure drowns.
var dazzled = float32(math.Log(240 + pixels.Black))

// unrest is the median square of a slope's change, over the square of the
// noise: what noise and registration make where nothing has changed.
func unrest(now, then *pixels.Image, a []float32) float32 {
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
func (c *covering) tints(now, then *pixels.Image) {
	n := len(c.tint)
	all := make([]float32, 3*n)
	change := [3][]float32{all[:n], all[n : 2*n], all[2*n:]}
	for k, planes := range [3][2][]float32{{now.L, then.L}, {now.A, then.A}, {now.B, then.B}} {
		v := make([]float64, 0, n/4+1)
		for j := range change[k] {
			at := j/c.cols*coverCell*c.w + j%c.cols*coverCell
			var sum float32
			for y := range coverCell {
				for i := at + y*c.w; i < at+y*c.w+coverCell; i++ {
					sum += planes[0][i] - planes[1][i]
				}
			}
			change[k][j] = sum / (coverCell * coverCell)
			if j%4 == 0 {
				v = append(v, float64(change[k][j]))
			}
		}
		common := float32(numeric.Median(v))
		for j := range change[k] {
			change[k][j] = float32(math.Abs(float64(change[k][j] - common)))
		}
	}
	for j := range c.tint {
		c.depth[j], c.tint[j] = change[0][j], change[1][j]+change[2][j]
	}
}

// sighting says whether the structure of a cell is seen again.
type sighting uint8

const (
	untold  sighting = iota // too little structure, or half of it
	plainly                 // it is there
	hidden                  // something covers it
)

const (
	// The least evidence a cell, averaged over a window, from which it can be
	// told: of noise alone comes a tenth of it.
	structuredNear, structuredWide = 6.0, 1.0
	hiddenShare, plainShare        = 0.1, 0.4 // of that evidence
	// freshLeast is the least evidence of new structure a cell: a hand brings
	// seven or so, light that fades takes some away.
	freshLeast = 1.0
	// moreLeast is the same for more structure on bare ground, where noise
	// alone makes up to one.
	moreLeast = 2.0
)

// seen judges every cell with its neighbours, and where they have too little
// structure, with theirs.
func (c *covering) seen() []sighting {
	near, nearMost := c.window(c.kept, 1), c.window(c.most, 1)
	wide, wideMost := c.window(c.kept, 2), c.window(c.most, 2)
	fresh := c.window(c.fresh, 2)
	out := make([]sighting, len(near))
	for k := range out {
		v, most, least := near[k], nearMost[k], float32(structuredNear)
		if most < least {
			v, most, least = wide[k], wideMost[k], structuredWide
		}
		switch {
		case most < least:
		case v < hiddenShare*most && fresh[k] > freshLeast:
			out[k] = hidden
		case v > plainShare*most:
			out[k] = plainly
		}
	}
	return out
}

// window averages over the cells within r of each.
func (c *covering) window(v []float32, r int) []float32 {
	out := make([]float32, len(v))
	pixels.Smooth(out, v, c.cols, pixels.Box{X0: 0, Y0: 0, X1: c.cols, Y1: c.rows}, r)
	return out
}

// grid is how a plate is cut into cells.
type grid struct {
	cols, rows int
	w          int // of the plate
}

// tintLeast is a change of both log colour ratios together that no lamp makes,
// tintDepth what is allowed besides for each unit that the brightness
// logarithm changed.
const tintLeast, tintDepth = 0.12, 0.3

// tinted says whether a cell's colour changed as no lamp changes it.
func (c *covering) tinted(k int) bool { return c.tint[k] > tintLeast+tintDepth*c.depth[k] }

// strange says whether a cell does not show what it did, given how its
// structure was seen.
func (c *covering) strange(k int, s sighting) bool {
	return s == hidden || s == untold && c.tinted(k)
}

// richer is the evidence, nats a cell, that there is more structure than was:
// 0 where both pictures are bare.
func (c *covering) richer() []float32 {
	more := make([]float32, len(c.kept))
	for y := 1; y < c.rows*coverCell && y < c.now.H-1; y++ {
		row := y / coverCell * c.cols
		for x := 1; x < c.cols*coverCell && x < c.w-1; x++ {
			if i := y*c.w + x; c.now.L[i] <= dazzled {
				v, g2, h2, _ := c.at(i)
				more[row+x/coverCell] += float32(numeric.Log((v + g2) / (v + h2)))
			}
		}
	}
	return more
}

// unlike lists the cells that are strange, or bare where more structure is now.
func (c *covering) unlike() []bool {
	more := c.window(c.richer(), 2)
	out := make([]bool, len(more))
	for k, s := range c.seen() {
		out[k] = c.strange(k, s) || s == untold && more[k] > moreLeast
	}
	return out
}

// middle is the plate pixel in the middle of a cell.
func (g grid) middle(k int) int {
	return (k/g.cols*coverCell+coverCell/2)*g.w + k%g.cols*coverCell + coverCell/2
}

// cells are some cells of a grid.
type cells struct {
	grid
	on []bool
}

// solid keeps the cells most of whose neighbours are marked too: lines that
// registration or a moved shadow leaves are thin.
func (c cells) solid() cells {
	const most = 6 // of nine; at the picture's rim of those there are
	out := cells{c.grid, make([]bool, len(c.on))}
	for y := range c.rows {
		for x := range c.cols {
			n, of := 0, 0
			for v := max(0, y-1); v <= min(c.rows-1, y+1); v++ {
				for u := max(0, x-1); u <= min(c.cols-1, x+1); u++ {
					of++
					if c.on[v*c.cols+u] {
						n++
					}
				}
			}
			out.on[y*c.cols+x] = 9*n >= most*of
		}
	}
	return out
}
