// SPDX-License-Identifier: Apache-2.0

package asbuilt

import (
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
)

// weights are how much each sighting counts, across the way that the piece was dragged
// and along it: along it the lag comes in, which varies with friction and the board's warp,
// from place to place. How much each kind scatters is taken from the residuals.
type weights struct {
	of    [2][]float64 // across and along, sighting by sighting, 0 … 1
	scale [2]float64   // standard deviation of each kind in units of the sightings' own
}

func newWeights(seen []Sighting) *weights {
	w := &weights{scale: [2]float64{1, alongFirst}}
	for k := range w.of {
		w.of[k] = slices.Repeat([]float64{1}, len(seen))
	}
	return w
}

// parts are a residual across and along the drag, in units of the sighting's own
// standard deviation.
func parts(s Sighting, r frame.Spot[frame.Board]) [2]float64 {
	return [2]float64{(r.Y*s.Drag.X - r.X*s.Drag.Y) / s.Sigma, r.Dot(s.Drag) / s.Sigma}
}

// update takes scatter and weights from residuals: those of Huber, or those that drop
// outliers.
func (w *weights) update(seen []Sighting, left []frame.Spot[frame.Board], isDropping bool) {
	for k := range w.of {
		all := make([]float64, len(seen))
		for i, s := range seen {
			all[i] = math.Abs(parts(s, left[i])[k])
		}
		sorted := slices.Clone(all)
		slices.Sort(sorted)
		w.scale[k] = max(sorted[len(sorted)/2]/normalMedian, leastScale)
		for i, v := range all {
			z := v / w.scale[k]
			if w.of[k][i] = linear.Huber(z, linear.HuberLimit); isDropping {
				w.of[k][i] = linear.Biweight(z, linear.BiweightLimit)
			}
		}
	}
}

// problem is the sum of squares to be made least.
func (w *weights) problem(seen []Sighting) linear.LeastSquares {
	rows := 2 * len(seen)
	return linear.LeastSquares{
		Rows: rows,
		Residuals: func(p, out []float64, lo, hi int) {
			m := machineOf(p)
			for k := lo; k < hi; k++ {
				i, kind := k/2, k%2
				v := parts(seen[i], seen[i].Seen.Sub(m.Predict(seen[i])))[kind]
				out[k] = math.Sqrt(w.of[kind][i]) * v / w.scale[kind]
			}
		},
		Touches:   func(int) (int, int) { return 0, rows },
		Step:      func(int) float64 { return quotient },
		Tolerance: tolerance,
	}
}
