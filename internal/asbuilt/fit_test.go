// SPDX-License-Identifier: Apache-2.0

package asbuilt

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boardhand/internal/frame"
)

var (
	drawn = Machine{Scale: [2]float64{1, 1}, Centre: frame.Spot[frame.Machine]{X: 0.168, Y: 0.168}, Backlash: [2]float64{0.4e-3, 0.4e-3}}
	wrong = Machine{Scale: [2]float64{1.012, 0.988}, Skew: 0.0122, Turn: -0.0087, Centre: frame.Spot[frame.Machine]{X: 0.1704, Y: 0.1662},
		Backlash: [2]float64{0.8e-3, 0.7e-3}, Lag: 1.2e-3}
)

// sightings of a machine on four by four places, each dragged to four ways; noise is the
// standard deviation across the drag, and lag varies by scatter, m.
func sightings(m Machine, noise, scatter float64, rnd *rand.Rand) (out []Sighting) {
	for _, x := range []float64{-0.14, -0.06, 0.02, 0.10} {
		for _, y := range []float64{-0.10, -0.02, 0.06, 0.14} {
			for _, d := range []frame.Spot[frame.Board]{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				s := Sighting{Motors: frame.Spot[frame.Machine]{X: 0.168 + x, Y: 0.168 + y}, Side: [2]float64{1, 1}, Drag: d, Sigma: 0.1e-3}
				if rnd.IntN(2) == 0 {
					s.Side = [2]float64{-1, -1}
				}
				if d.X != 0 {
					s.Side[0] = d.X
				} else {
					s.Side[1] = d.Y
				}
				s.Seen = m.Predict(s).Add(frame.Spot[frame.Board]{X: noise * rnd.NormFloat64(), Y: noise * rnd.NormFloat64()}).Add(d.Scale(scatter * rnd.NormFloat64()))
				out = append(out, s)
			}
		}
	}
	return out
}

// Sightings without error give the machine back, from the drawing as a start.
func TestExactSightings(t *testing.T) {
	f, err := Estimate(sightings(wrong, 0, 0, rand.New(rand.NewPCG(1, 0))), drawn)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range f.Machine.vector() {
		if want := wrong.vector()[i]; math.Abs(v-want) > 1e-8 {
			t.Errorf("figure %d is %.9g, want %.9g", i, v, want)
		}
	}
	if f.RMS > 1e-8 || len(f.Outliers) > 0 {
		t.Errorf("%g m left, outliers %v", f.RMS, f.Outliers)
	}
}

// With noise, and a lag that varies, the errors are of the size that is stated: over many
// machines the mean square of error over standard deviation is near 1 for each figure.
func TestStatedErrorsAreTrue(t *testing.T) {
	const seed, machines = 7, 60
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	var square [parameters]float64
	for range machines {
		f, err := Estimate(sightings(wrong, 0.08e-3, 0.25e-3, rnd), drawn)
		if err != nil {
			t.Fatal(err)
		}
		got, want, sigma := f.Machine.vector(), wrong.vector(), f.Sigma.vector()
		for i := range square {
			z := (got[i] - want[i]) / sigma[i]
			square[i] += z * z / machines
		}
	}
	t.Logf("mean squares %.2f", square)
	for i, v := range square {
		if !(v > 0.5 && v < 2) { // χ² of 60: 0.5 and 2 lie beyond 4 σ
			t.Errorf("figure %d: the mean square of its error over the stated one is %.2f", i, v)
		}
	}
}

// Sightings that are plainly off are named, and move nothing.
func TestOutliersAreNamed(t *testing.T) {
	seen := sightings(wrong, 0.08e-3, 0.25e-3, rand.New(rand.NewPCG(3, 0)))
	clean, err := Estimate(seen, drawn)
	if err != nil {
		t.Fatal(err)
	}
	bad := []int{5, 17, 40, 41}
	for _, i := range bad {
		seen[i].Seen = seen[i].Seen.Add(frame.Spot[frame.Board]{X: 4e-3, Y: -3e-3})
	}
	f, err := Estimate(seen, drawn)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range bad {
		if !slices.Contains(f.Outliers, i) {
			t.Errorf("sighting %d is 5 mm off and not named; named are %v", i, f.Outliers)
		}
	}
	for i, v := range f.Machine.vector() {
		if d := math.Abs(v - clean.Machine.vector()[i]); d > 2*clean.Sigma.vector()[i] {
			t.Errorf("figure %d moved by %.1f σ", i, d/clean.Sigma.vector()[i])
		}
	}
}

// What sightings cannot tell is an error, not a guess: too few, or all dragged one way.
func TestUndeterminedAxes(t *testing.T) {
	all := sightings(wrong, 0.08e-3, 0, rand.New(rand.NewPCG(4, 0)))
	if _, err := Estimate(all[:9], drawn); !errors.Is(err, ErrTooFew) {
		t.Errorf("nine sightings: %v", err)
	}
	var oneWay []Sighting
	for _, s := range all {
		if s.Drag.X == 1 {
			s.Side = [2]float64{1, 1}
			oneWay = append(oneWay, s, s)
		}
	}
	if _, err := Estimate(oneWay, drawn); !errors.Is(err, ErrTooFew) {
		t.Errorf("one way: %v", err)
	}
}

// The scatter of four corners of a square of 2 mm, by hand.
func TestScatter(t *testing.T) {
	at := []frame.Spot[frame.Board]{{X: 1e-3, Y: 1e-3}, {X: 3e-3, Y: 1e-3}, {X: 3e-3, Y: 3e-3}, {X: 1e-3, Y: 3e-3}}
	m, sigma, far := Scatter(at)
	if want := math.Sqrt(4.0/3) * 1e-3; m.Distance(frame.Spot[frame.Board]{X: 2e-3, Y: 2e-3}) > 1e-12 || math.Abs(sigma[0]-want) > 1e-12 || math.Abs(far-math.Sqrt2*1e-3) > 1e-12 {
		t.Errorf("%v, %v, %g", m, sigma, far)
	}
}
