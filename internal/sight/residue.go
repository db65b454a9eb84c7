// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
)

// spill is a connected piece of the picture that an explanation leaves
// unexplained.
type spill struct {
	area     float64    // mm² of board plane
	onPieces float64    // of that, on pieces that stand or have come
	inside   float64    // of that, on the playing field
	sheet    float64    // and on the field with its margin
	rim      bool       // it reaches the picture's rim
	brink    bool       // it reaches the brink of the board
	fall     [3]float64 // mean departure of the three planes from the even board
	foot     bool       // it lies at a piece whose shadow is not known
	squares  []chess.Square
}

// residue finds what a hypothesis leaves unexplained, largest first.
func (q *inquiry) residue(g *hypothesis) []spill {
	limit := float32(doubt * background.Outlier * q.eye.air.Flat)
	odd := q.below(g, limit)
	if q.eye.last == nil { // nothing is known yet of what lies beside the board
		for i := range odd {
			odd[i] = odd[i] && q.eye.onField(i)
		}
	}
	pieces := q.piecesOf(g)
	fresh := pieces // those whose shadows are not known yet: in the first picture all
	if q.eye.last != nil {
		fresh = make([]bool, len(q.base))
		for k := range g.stood {
			g.stood[k].mark(fresh, shows)
		}
	}
	return q.spills(solid(odd, q.eye.ground.W, q.eye.ground.Box), pieces, fresh)
}

// menOf marks the pixels that show pieces under a hypothesis.
func (q *inquiry) piecesOf(g *hypothesis) []bool {
	on := make([]bool, len(q.base))
	for k := range q.eye.pieces {
		if !g.gone[k] {
			q.eye.pieces[k].mark(on, shows)
		}
	}
	for k := range g.stood {
		g.stood[k].mark(on, shows)
	}
	return on
}

// shows is how surely a pixel must show a piece to count as its.
const shows = 0.5

// mark marks the pixels that show a piece more surely than some share.
func (m *standing) mark(on []bool, share float32) {
	for _, c := range m.covers {
		if c.Alpha > share {
			on[c.Pixel] = true
		}
	}
}

// below marks the pixels whose density under a hypothesis is less than a limit.
func (q *inquiry) below(g *hypothesis, limit float32) []bool {
	b, w := q.eye.ground.Box, q.eye.ground.W
	odd := make([]bool, len(q.base))
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*w + b.X0; i < y*w+b.X1; i++ {
			odd[i] = q.base[i] < limit
		}
	}
	t := q.gather(g.gone, g.stood)
	for k, px := range t.px {
		odd[px] = q.changed(px, g.gone, g.stood, t.over(k)) < limit
	}
	return odd
}

func (e *eye) onField(i int) bool {
	f := e.setup.field()
	return math.Abs(float64(e.ground.X[i])) < f && math.Abs(float64(e.ground.Y[i])) < f
}

// solid keeps the pixels most of whose neighbours are odd too: edges and
// glints are thin, hands and pieces are not.
func solid(odd []bool, w int, b pixels.Box) []bool {
	out := make([]bool, len(odd))
	const most = 6 // of nine
	for y := b.Y0 + 1; y < b.Y1-1; y++ {
		for x := b.X0 + 1; x < b.X1-1; x++ {
			n, i := 0, y*w+x
			for _, k := range [9]int{i - w - 1, i - w, i - w + 1, i - 1, i, i + 1, i + w - 1, i + w, i + w + 1} {
				if odd[k] {
					n++
				}
			}
			out[i] = n >= most
		}
	}
	return out
}

// gap is how many plate pixels of what looks like the board may cut a hand in
// two: skin can have the colour of a square.
const gap = 3

// spills collects connected pixels, over gaps.
func (q *inquiry) spills(odd, pieces, fresh []bool) []spill {
	g := q.eye.ground
	var out []spill
	var queue []int
	for start, is := range odd {
		if !is {
			continue
		}
		odd[start] = false
		queue = append(queue[:0], start)
		var p spill
		var per [64]float64
		n := 0
		for len(queue) > 0 {
			i := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			q.eye.account(&p, &per, i, 1)
			if pieces[i] {
				p.onPieces += g.Pitch * g.Pitch * 1e6
			}
			n++
			p.add(q.departure(i), n)
			for k := range q.around(i) {
				p.foot = p.foot || fresh[k]
				if odd[k] {
					odd[k] = false
					queue = append(queue, k)
				}
			}
		}
		p.squares = squaresOf(&per, 0.25*p.inside)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b spill) int { return cmp.Compare(b.inside, a.inside) })
	return out
}

// add makes a departure the n-th of those whose mean is kept.
func (p *spill) add(departure [3]float64, n int) {
	for k, d := range departure {
		p.fall[k] += (d - p.fall[k]) / float64(n)
	}
}

// around lists the pixels no farther than a gap from one.
func (q *inquiry) around(i int) func(func(int) bool) {
	g := q.eye.ground
	x, y := i%g.W, i/g.W
	return pixels.Box{X0: max(0, x-gap), Y0: max(0, y-gap), X1: min(g.W, x+gap+1), Y1: min(g.H, y+gap+1)}.Each(g.W)
}

// account adds some pixels to a spill, all of them where pixel i is.
func (e *eye) account(p *spill, per *[64]float64, i, n int) {
	area := e.ground.Pitch * e.ground.Pitch * 1e6 * float64(n)
	p.area += area
	gx, gy, f := float64(e.ground.X[i]), float64(e.ground.Y[i]), e.setup.field()
	if math.Abs(gx) < f+e.setup.Border && math.Abs(gy) < f+e.setup.Border {
		p.sheet += area
	}
	if e.onField(i) {
		p.inside += area
		s := e.setup.Square
		per[min(7, int((gy+f)/s))*8+min(7, int((gx+f)/s))] += area
	}
}

// departure is how far a pixel's three planes are from the even board's.
func (q *inquiry) departure(i int) [3]float64 {
	m, p := q.eye.coat.Image, q.plate
	return [3]float64{float64(p.L[i] - m.L[i]), float64(p.A[i] - m.A[i]), float64(p.B[i] - m.B[i])}
}

// cast says whether a spill is the shadow of a piece: it begins at it, and it is
// darker than the even board by no more than a lamp's core shadow, and hardly
// otherwise coloured. Where few pieces stand, their shadows are too few for their
// colours to be known from the first picture, and a lamp may have changed when
// a piece arrives.
func (p spill) cast(air *background.Conditions) bool {
	const deepest, faintest, grey = -1.2, -0.1, 0.06 // of ln brightness; of the log colour ratios, besides what goes with the brightness
	dl := p.fall[0]
	if !p.foot || dl > faintest || dl < deepest {
		return false
	}
	most := grey - background.ShadeTint*dl/2
	return math.Abs(p.fall[1]-air.Tint[0]*dl) < most && math.Abs(p.fall[2]-air.Tint[1]*dl) < most
}
