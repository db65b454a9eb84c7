// SPDX-License-Identifier: Apache-2.0

package asbuilt

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
)

// Fit is a machine estimated by least squares, with what the sightings leave open.
type Fit struct {
	Machine  Machine
	Sigma    Machine                   // standard deviation of each figure, by the residuals themselves
	Residual []frame.Spot[frame.Board] // seen less predicted, sighting by sighting, m
	Outliers []int                     // sightings that hardly count, being too far off for the others
	RMS      float64                   // of each coordinate, without the outliers, m
}

// ErrTooFew says that the sightings do not determine a machine.
var ErrTooFew = errors.New("the sightings do not determine the axes: see the piece at more places, dragged there along both axes and from both sides")

// Estimate finds the machine that explains sightings best, from a start as the rig has
// it. eye is the camera's foot point. Weights against outliers are those of Huber, then
// Tukey's, with the scatter taken from the residuals.
func Estimate(seen []Sighting, start Machine, eye frame.Spot[frame.Board]) (Fit, error) {
	if 2*len(seen) < parameters+leastFreedom {
		return Fit{}, fmt.Errorf("%d sightings: %w", len(seen), ErrTooFew)
	}
	f := Fit{Machine: start, Residual: make([]frame.Spot[frame.Board], len(seen))}
	weight := make([]float64, len(seen))
	for i := range weight {
		weight[i] = 1
	}
	var s linear.Solution
	for pass := range passes {
		q := problem(seen, weight, eye)
		var err error
		if s, err = q.Minimise(f.Machine.vector(), iterations); err != nil {
			return f, fmt.Errorf("%w (%w)", ErrTooFew, err)
		}
		f.Machine = machineOf(s.P)
		scale := f.residuals(seen, eye)
		for i, r := range f.Residual {
			z := r.Norm() / math.Sqrt2 / max(scale, leastScatter) * medianSigma(seen) / seen[i].Sigma
			if weight[i] = linear.Huber(z, huber); pass >= passes/2 {
				weight[i] = linear.Biweight(z, biweight)
			}
		}
	}
	return f, f.judge(s, weight, medianSigma(seen))
}

// medianSigma is that of the sightings' standard deviations.
func medianSigma(seen []Sighting) float64 {
	v := make([]float64, len(seen))
	for i, s := range seen {
		v[i] = s.Sigma
	}
	slices.Sort(v)
	return v[len(v)/2]
}

// residuals fills in what is left, and returns the scatter of a coordinate by the median.
func (f *Fit) residuals(seen []Sighting, eye frame.Spot[frame.Board]) float64 {
	all := make([]float64, len(seen))
	for i, s := range seen {
		f.Residual[i] = s.Seen.Sub(f.Machine.Predict(s, eye))
		all[i] = f.Residual[i].Norm()
	}
	slices.Sort(all)
	return all[len(all)/2] / rayleighMedian
}

// judge names the outliers and says how sure each figure is.
func (f *Fit) judge(s linear.Solution, weight []float64, sigma float64) error {
	sum, n := 0.0, 0
	for i, w := range weight {
		if w < outlier {
			f.Outliers = append(f.Outliers, i)
			continue
		}
		sum, n = sum+f.Residual[i].Dot(f.Residual[i]), n+2
	}
	f.RMS = math.Sqrt(sum / float64(max(1, n)))
	cov, err := s.Normal.ScaledInverse()
	if err != nil {
		return fmt.Errorf("%w (%w)", ErrTooFew, err)
	}
	unit := math.Sqrt(sum/float64(max(1, n-parameters))) / sigma
	p := make([]float64, parameters)
	for i := range p {
		p[i] = unit * math.Sqrt(max(0, cov.Row(i)[i]))
	}
	f.Sigma = machineOf(p)
	return nil
}

// problem is the sum of squares to be made least.
func problem(seen []Sighting, weight []float64, eye frame.Spot[frame.Board]) linear.LeastSquares {
	rows := 2 * len(seen)
	return linear.LeastSquares{
		Rows: rows,
		Residuals: func(p, out []float64, lo, hi int) {
			m := machineOf(p)
			for k := lo; k < hi; k++ {
				s := seen[k/2]
				d := s.Seen.Sub(m.Predict(s, eye))
				v := d.X
				if k%2 == 1 {
					v = d.Y
				}
				out[k] = math.Sqrt(weight[k/2]) * v / s.Sigma
			}
		},
		Touches:   func(int) (int, int) { return 0, rows },
		Step:      func(int) float64 { return quotient },
		Tolerance: tolerance,
	}
}
