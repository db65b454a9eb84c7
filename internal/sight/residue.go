// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
)

// residual is a connected part of the picture that an explanation leaves unexplained.
type residual struct {
	patch
	fall [3]float64 // mean departure of the three planes from the even board
	foot bool       // it lies at a piece whose shadow is not known
}

// residue finds what a hypothesis leaves unexplained, largest first.
func (q *inquiry) residue(g *hypothesis) []residual {
	limit := float32(doubt * background.Outlier * q.model.air.Flat)
	odd := q.below(g, limit)
	if q.model.phase() == meeting { // nothing is known yet of what lies beside the board
		for i := range odd {
			odd[i] = odd[i] && q.scene.onField(i)
		}
	}
	pieces := q.piecesOf(g)
	fresh := pieces // those whose shadows are not known yet: in the first picture all
	if q.model.phase() == following {
		fresh = make([]bool, len(q.base))
		for k := range g.stood {
			g.stood[k].mark(fresh, shows)
		}
	}
	return q.residuals(pixels.Solid(odd, q.scene.ground.W, q.scene.ground.Box), pieces, fresh)
}

// menOf marks the pixels that show pieces under a hypothesis.
func (q *inquiry) piecesOf(g *hypothesis) []bool {
	on := make([]bool, len(q.base))
	for k := range q.scene.pieces {
		if !g.gone[k] {
			q.scene.pieces[k].mark(on, shows)
		}
	}
	for k := range g.stood {
		g.stood[k].mark(on, shows)
	}
	return on
}

// below marks the pixels whose density under a hypothesis is less than a limit.
func (q *inquiry) below(g *hypothesis, limit float32) []bool {
	b, w := q.scene.ground.Box, q.scene.ground.W
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

// gap is how many plate pixels of what looks like the board may cut a hand in
// two: skin can have the colour of a square.
const gap = 3

// residuals collects connected pixels, over gaps.
func (q *inquiry) residuals(odd, pieces, fresh []bool) []residual {
	var out []residual
	for start, is := range odd {
		if !is {
			continue
		}
		odd[start] = false
		var p residual
		n := 0
		take := func(k int) bool {
			p.foot = p.foot || fresh[k]
			is := odd[k]
			odd[k] = false
			return is
		}
		pixels.Flood([]int{start}, q.around, take, func(i int) bool {
			q.scene.account(&p.patch, i, 1)
			if pieces[i] {
				p.onPieces += q.scene.areaOf(1)
			}
			n++
			p.add(q.departure(i), n)
			return true
		})
		p.cover(0.25 * p.inside)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b residual) int { return cmp.Compare(b.inside, a.inside) })
	return out
}

// around lists the pixels no farther than a gap from one.
func (q *inquiry) around(i int) iter.Seq[int] {
	return pixels.Around(i, gap, q.scene.ground.W, q.scene.ground.H)
}

// add makes a departure the n-th of those whose mean is kept.
func (p *residual) add(departure [3]float64, n int) {
	for k, d := range departure {
		p.fall[k] += (d - p.fall[k]) / float64(n)
	}
}

// departure is how far a pixel's three planes are from the even board's.
func (q *inquiry) departure(i int) [3]float64 {
	m, p := q.model.coat.Image, q.plate
	return [3]float64{float64(p.L[i] - m.L[i]), float64(p.A[i] - m.A[i]), float64(p.B[i] - m.B[i])}
}

// cast says whether a residual is the shadow of a piece: it begins at it, and it is
// darker than the even board by no more than a lamp's core shadow, and hardly
// otherwise coloured. Where few pieces stand, their shadows are too few for their
// colours to be known from the first picture, and a lamp may have changed when
// a piece arrives.
func (p residual) cast(air *background.Conditions) bool {
	const deepest, faintest, grey = -1.2, -0.1, 0.06 // of ln brightness; of the log colour ratios, besides what goes with the brightness
	dl := p.fall[0]
	if !p.foot || dl > faintest || dl < deepest {
		return false
	}
	most := grey - background.ShadeTint*dl/2
	return math.Abs(p.fall[1]-air.Tint[0]*dl) < most && math.Abs(p.fall[2]-air.Tint[1]*dl) < most
}
