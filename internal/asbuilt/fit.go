// SPDX-License-Identifier: Apache-2.0

package asbuilt

import (
	"errors"
	"fmt"
	"math"

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
// it. Weights against outliers are those of Huber, then
// Tukey's, with the scatter taken from the residuals.
func Estimate(seen []Sighting, start Machine) (Fit, error) {
	if 2*len(seen) < parameters+leastFreedom {
		return Fit{}, fmt.Errorf("%d sightings: %w", len(seen), ErrTooFew)
	}
	f := Fit{Machine: start, Residual: make([]frame.Spot[frame.Board], len(seen))}
	w := newWeights(seen)
	var s linear.Solution
	for pass := range passes {
		q := w.problem(seen)
		var err error
		if s, err = q.Minimise(f.Machine.vector(), iterations); err != nil {
			return f, fmt.Errorf("%w (%w)", ErrTooFew, err)
		}
		f.Machine = machineOf(s.P)
		for i, r := range seen {
			f.Residual[i] = r.Seen.Sub(f.Machine.Predict(r))
		}
		if pass+1 < passes {
			w.update(seen, f.Residual, pass >= passes/2)
		}
	}
	return f, f.judge(s, w)
}

// judge names the outliers and says how sure each figure is.
func (f *Fit) judge(s linear.Solution, w *weights) error {
	sum, n := 0.0, 0
	for i, r := range f.Residual {
		if min(w.of[0][i], w.of[1][i]) < outlier {
			f.Outliers = append(f.Outliers, i)
			continue
		}
		sum, n = sum+r.Dot(r), n+2
	}
	f.RMS = math.Sqrt(sum / float64(max(1, n)))
	cov, err := s.Normal.ScaledInverse()
	if err != nil {
		return fmt.Errorf("%w (%w)", ErrTooFew, err)
	}
	p := make([]float64, parameters)
	for i := range p {
		p[i] = math.Sqrt(max(0, cov.Row(i)[i]))
	}
	f.Sigma = machineOf(p)
	return nil
}

// Widen adds to what is uncertain of the centre and of the scale what no residual shows,
// since it is the same at every place or grows with the board: metres, and a share.
func (f *Fit) Widen(centre, scale float64) {
	s := &f.Sigma
	s.Centre.X, s.Centre.Y = math.Hypot(s.Centre.X, centre), math.Hypot(s.Centre.Y, centre)
	s.Scale = [2]float64{math.Hypot(s.Scale[0], scale), math.Hypot(s.Scale[1], scale)}
}
