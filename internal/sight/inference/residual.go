// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Residual is a connected part of the picture that an explanation leaves unexplained.
type Residual struct {
	scene.Patch
	departure [3]float64 // mean departure of the three planes from the even board
	AtBase    bool       // it lies at a piece whose shadow is not known
	middle    frame.Spot[frame.Board]
}

// Residuals finds what a hypothesis leaves unexplained, largest first.
func (q *Search) Residuals(g *hypothesis.Hypothesis) []Residual {
	limit := float32(doubt * background.OutlierShare * q.Model.Conditions.OutlierDensity)
	odd := q.Below(g.Gone, g.Stood, limit)
	if q.Model.Phase() == background.Meeting { // nothing is known yet of what lies beside the board
		for i := range odd {
			odd[i] = odd[i] && q.Scene.IsOnField(i)
		}
	}
	pieces := q.piecesOf(g)
	fresh := pieces // those whose shadows are not known yet: in the first picture all
	if q.Model.Phase() == background.Following {
		fresh = make([]bool, len(q.Base))
		for k := range g.Stood {
			g.Stood[k].Mark(fresh, scene.Shows)
		}
	}
	return q.components(pixels.Solid(odd, q.Scene.Plane.W, q.Scene.Plane.Box), pieces, fresh)
}

// menOf marks the pixels that show pieces under a hypothesis.
func (q *Search) piecesOf(g *hypothesis.Hypothesis) []bool {
	on := make([]bool, len(q.Base))
	for k := range q.Scene.Pieces {
		if !g.Gone[k] {
			q.Scene.Pieces[k].Mark(on, scene.Shows)
		}
	}
	for k := range g.Stood {
		g.Stood[k].Mark(on, scene.Shows)
	}
	return on
}

// components collects connected pixels, over gaps.
func (q *Search) components(odd, pieces, fresh []bool) []Residual {
	var out []Residual
	for start, is := range odd {
		if !is {
			continue
		}
		odd[start] = false
		var p Residual
		n := 0
		take := func(k int) bool {
			p.AtBase = p.AtBase || fresh[k]
			is := odd[k]
			odd[k] = false
			return is
		}
		pixels.Flood([]int{start}, q.around, take, func(i int) bool {
			q.Scene.Account(&p.Patch, i, 1)
			if pieces[i] {
				p.OnPieces += q.Scene.AreaOf(1)
			}
			n++
			p.add(q.departure(i), n)
			at := frame.Spot[frame.Board]{X: float64(q.Scene.Plane.X[i]), Y: float64(q.Scene.Plane.Y[i])}
			p.middle = p.middle.Add(at.Sub(p.middle).Scale(1 / float64(n)))
			return true
		})
		p.CountSquares(0.25 * p.Inside)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b Residual) int { return cmp.Compare(b.Inside, a.Inside) })
	return out
}

// around lists the pixels no farther than a gap from one.
func (q *Search) around(i int) iter.Seq[int] {
	return pixels.Around(i, gap, q.Scene.Plane.W, q.Scene.Plane.H)
}

// add makes a departure the n-th of those whose mean is kept.
func (p *Residual) add(departure [3]float64, n int) {
	for k, d := range departure {
		p.departure[k] += (d - p.departure[k]) / float64(n)
	}
}

// departure is how far a pixel's three planes are from the even board's.
func (q *Search) departure(i int) [3]float64 {
	m, p := q.Model.Even.Image, q.Image
	return [3]float64{float64(p.L[i] - m.L[i]), float64(p.A[i] - m.A[i]), float64(p.B[i] - m.B[i])}
}

// IsShadow says whether a residual is the shadow of a piece: it begins at it, and it is
// darker than the even board by no more than a lamp's core shadow, and hardly
// otherwise coloured. Where few pieces stand, their shadows are too few for their
// colours to be known from the first picture, and a lamp may have changed when
// a piece arrives.
func (p Residual) IsShadow(air *background.Conditions) bool {
	const grey = 0.06 // of the log colour ratios, besides what goes with the brightness
	dl := p.departure[0]
	if !p.AtBase || dl > background.ShadowFaintest || dl < background.ShadowDeepest {
		return false
	}
	most := grey - background.ShadowTintSpread*dl/2
	return math.Abs(p.departure[1]-air.ShadowTint[0]*dl) < most && math.Abs(p.departure[2]-air.ShadowTint[1]*dl) < most
}

// IsOnPiece says whether a residual lies on a piece.
func (p Residual) IsOnPiece() bool { return p.OnPieces > p.Area/2 }

// Unexplained is how much of the field a hypothesis leaves unexplained, mm².
func (q *Search) Unexplained(g *hypothesis.Hypothesis) float64 {
	sum := 0.0
	for _, p := range q.Residuals(g) {
		sum += p.Inside
	}
	return sum
}
