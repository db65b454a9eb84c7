// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// measure fits the place of a piece among the rest and says how sure it is.
func (q *Search) measure(k int) (frame.Spot[frame.Board], float64) {
	gone := make([]bool, len(q.Scene.Pieces))
	gone[k] = true
	m := q.Scene.Pieces[k]
	m.Nudged = nil
	stood := []scene.Placement{m}
	top := q.climb(gone, stood, 0, q.Evidence(gone, stood))
	return stood[0].At, q.routeSigma(gone, stood, 0, top)
}

// Survey measures every piece of the first picture among the others as they were
// last thought to stand.
func (q *Search) Survey(board scene.Occupancy, at map[chess.Square]frame.Spot[frame.Board], sigma map[chess.Square]float64) {
	sc := q.Scene
	sc.Board = board
	sc.Place(at)
	q.UpdateBases()
	for k := range sc.Pieces {
		s := sc.Pieces[k].Square
		at[s], sigma[s] = q.measure(k)
	}
	sc.Place(at)
}

// PlacedSigma is the σ of the place of a standing piece of a hypothesis.
func (q *Search) PlacedSigma(g *hypothesis.Hypothesis, k int) float64 {
	if g.Stood[k].Relit {
		return g.Stood[k].Sigma
	}
	sigma := q.routeSigma(g.Gone, g.Stood, k, q.Evidence(g.Gone, g.Stood))
	if g.Stood[k].Nudged != nil {
		return max(sigma, g.Stood[k].Sigma) // it was measured from where it stood
	}
	return sigma
}

// Sigma is the σ of a fitted place from the fall of the evidence around it.
func (q *Search) Sigma(gone []bool, stood []scene.Placement, k int, top nats.LogEvidence) float64 {
	v := q.variance(gone, stood, k, top)
	if math.IsInf(v, 1) {
		return scene.PlacingSigma * q.Scene.Setup.Square
	}
	return math.Sqrt(v + modelSigma*modelSigma)
}

// variance is that of a fitted place by the fall of the evidence around it; +Inf
// when the picture says less than where people set pieces down.
func (q *Search) variance(gone []bool, stood []scene.Placement, k int, top nats.LogEvidence) float64 {
	here := stood[k]
	fall := 0.0
	for _, d := range [4]frame.Spot[frame.Board]{{X: probeStep}, {X: -probeStep}, {Y: probeStep}, {Y: -probeStep}} {
		stood[k] = q.shifted(here, here.At.Add(d))
		fall += float64(top - q.Evidence(gone, stood))
	}
	stood[k] = here
	if loose := scene.PlacingSigma * q.Scene.Setup.Square; !(fall > 4*probeStep*probeStep/(2*loose*loose)) {
		return math.Inf(1)
	}
	return 4 * probeStep * probeStep / (2 * fall) // fall of four steps of δ²/2σ²
}

// routeSigma is Sigma where a piece looks like its ground or its shadow: the
// evidence may hardly fall for millimetres though it falls close by, and the errors
// of the models move it farther. The routes need it; which square it stands on
// is judged by the picture alone.
func (q *Search) routeSigma(gone []bool, stood []scene.Placement, k int, top nats.LogEvidence) float64 {
	v := max(q.variance(gone, stood, k, top), q.spread(gone, stood, k, top))
	rest := modelSigma / q.Contrast(&stood[k])
	return min(scene.PlacingSigma*q.Scene.Setup.Square, math.Sqrt(v+rest*rest))
}

// spread is the variance of the place of a piece along the line on which it is
// known worst, by the places on a coarse grid of a few millimetres around it.
func (q *Search) spread(gone []bool, stood []scene.Placement, k int, top nats.LogEvidence) float64 {
	const reach = 2
	step := scene.PlacingSigma / reach * q.Scene.Setup.Square
	here, all := stood[k], 1.0
	var xx, xy, yy float64
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			if i == 0 && j == 0 {
				continue
			}
			d := frame.Spot[frame.Board]{X: float64(i), Y: float64(j)}.Scale(step)
			stood[k] = q.shifted(here, here.At.Add(d))
			w := math.Exp(min(0, float64(q.Evidence(gone, stood)-top)))
			all, xx, xy, yy = all+w, xx+w*d.X*d.X, xy+w*d.X*d.Y, yy+w*d.Y*d.Y
		}
	}
	stood[k] = here
	return ((xx+yy)/2 + math.Hypot((xx-yy)/2, xy)) / all // the larger eigenvalue
}
