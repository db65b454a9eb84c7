// SPDX-License-Identifier: Apache-2.0

// Package sizes estimates heights and bases of pieces from a picture of a known position: those
// whose outlines, leaning as the view has them lean, explain the picture best.
package sizes

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Estimated is what was found: the measures of all kinds, and how sure they are.
type Estimated struct {
	scene.Shapes
	Height float64 // standard deviation of the heights, as a share of them
	Base   float64 // and of the bases
}

// Usual is a set of usual proportions for squares of a side, metres; base and height are the
// king's, in squares.
func Usual(square, base, height float64) scene.Shapes {
	var out scene.Shapes
	for k, p := range proportions {
		out[k].Height, out[k].Base = p.height*height*square, p.base*base*square
	}
	return out
}

// Estimate finds the measures of the pieces that stand in a picture, reduced as the view asks.
// It is false where too little of the board is seen.
func Estimate(raw *pixels.Image, s scene.Setup, v optics.View, board scene.Occupancy) (Estimated, bool) {
	best := Estimated{Shapes: Usual(s.Square, middleBase, middleHeight)}
	for range rounds {
		s.Pieces = best.Shapes
		e, ok := learn(raw, s, v, board, Usual(s.Square, bases[len(bases)-1], heights[len(heights)-1]))
		if !ok {
			return best, false
		}
		best = e.search(s.Square)
	}
	return best, true
}

// Bases is by how much wider or slimmer than told the bases of all kinds are, by a picture that
// the told ones do not explain: the factor, of those tried, that explains it best, 1 where that
// is the told. It is false where too little of the board is seen.
func Bases(raw *pixels.Image, s scene.Setup, v optics.View, board scene.Occupancy) (float64, bool) {
	e, ok := learn(raw, s, v, board, Widened(s.Pieces, baseFactors[len(baseFactors)-1]))
	if !ok {
		return 1, false
	}
	best, top := 1.0, e.fit(s.Pieces)+baseDoubt
	for _, f := range baseFactors {
		if widest(s.Pieces)*f >= s.Square {
			break
		}
		if v := e.fit(Widened(s.Pieces, f)); v > top {
			best, top = f, v
		}
	}
	return best, true
}

// Widened are measures with bases by a factor wider.
func Widened(m scene.Shapes, f float64) scene.Shapes {
	for k := range m {
		m[k].Base *= f
	}
	return m
}

// widest is the widest base of all kinds.
func widest(m scene.Shapes) float64 {
	w := 0.0
	for _, p := range m {
		w = max(w, p.Base)
	}
	return w
}

// estimate is a picture with what was learnt of it under some measures.
type estimate struct {
	scene.Scene
	background.Model
	seen   *likelihood.Observation
	region []int32 // pixels that pieces can cover in any of the measures tried
}

// learn learns the table from a picture, as a first one; largest are the largest measures that
// will be tried.
func learn(raw *pixels.Image, s scene.Setup, v optics.View, board scene.Occupancy, largest scene.Shapes) (*estimate, bool) {
	e := &estimate{Scene: scene.New(s, v, board, 0)}
	e.Bins = background.NewBins(raw, e.Samples)
	if !e.Model.Imagine(&e.Scene, raw, nil) {
		return nil, false
	}
	e.LearnSides(&e.Scene, raw)
	e.seen = likelihood.Observe(&e.Scene, &e.Model, raw, raw)
	e.dress(largest)
	for i, n := range e.Stack.Count {
		if n > 0 {
			e.region = append(e.region, int32(i))
		}
	}
	return e, true
}

// dress gives the pieces other measures.
func (e *estimate) dress(m scene.Shapes) {
	e.Setup.Pieces = m
	e.Dress(e.Build, nil)
}

// fit is how well some measures explain the picture, in nats.
func (e *estimate) fit(m scene.Shapes) float64 {
	e.dress(m)
	return likelihood.IndependentShare * e.seen.Total(e.region)
}

// search tries measures: of all kinds together, then the heights kind by kind.
func (e *estimate) search(square float64) Estimated {
	var best scene.Shapes
	top := math.Inf(-1)
	fits := make([][]float64, len(bases))
	for i, b := range bases {
		fits[i] = make([]float64, len(heights))
		for j, h := range heights {
			m := Usual(square, b, h)
			fits[i][j] = e.fit(m)
			if fits[i][j] > top {
				best, top = m, fits[i][j]
			}
		}
	}
	out := Estimated{}
	base, height := spread(fits, top)
	out.Base, out.Height = math.Hypot(base, ownBase), math.Hypot(height, ownHeight)
	for k := chess.King; k >= chess.Pawn; k-- {
		start := best[k].Height
		for _, f := range heightFactors {
			m := best
			m[k].Height = start * f
			if v := e.fit(m); v > top {
				best, top = m, v
			}
		}
	}
	out.Shapes = best
	return out
}

// spread is the standard deviation of both measures over the grid that was tried, as shares of
// them, and never less than the grid's own coarseness.
func spread(fits [][]float64, top float64) (base, height float64) {
	var sum, b1, b2, h1, h2 float64
	for i := range fits {
		for j, v := range fits[i] {
			w, b, h := math.Exp(v-top), math.Log(bases[i]), math.Log(heights[j])
			sum, b1, b2, h1, h2 = sum+w, b1+w*b, b2+w*b*b, h1+w*h, h2+w*h*h
		}
	}
	of := func(one, two float64, grid []float64) float64 {
		step := math.Log(grid[len(grid)-1]/grid[0]) / float64(len(grid)-1)
		return math.Sqrt(max(0, two/sum-one*one/sum/sum) + step*step/12)
	}
	return of(b1, b2, bases[:]), of(h1, h2, heights[:])
}
