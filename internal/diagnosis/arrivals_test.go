// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The fit gives the true coefficients back, off by what its standard errors say.
func TestFitRecoversWhatItWasGiven(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 1))
	truth := [coefficients]float64{1.2e-3, -0.7e-3, 4e-3, 6e-3, -8e-3, 7e-3}
	var chi [coefficients]float64
	const rounds = 200
	for range rounds {
		var all []arrival
		for range 30 {
			p := Spot{X: 0.28 * (rnd.Float64() - 0.5), Y: 0.28 * (rnd.Float64() - 0.5)}
			off := Spot{
				X: truth[shiftX] + truth[scaleX]*p.X - truth[turn]*p.Y + truth[shear]*p.Y/2 + 0.3e-3*rnd.NormFloat64(),
				Y: truth[shiftY] + truth[scaleY]*p.Y + truth[turn]*p.X + truth[shear]*p.X/2 + 0.3e-3*rnd.NormFloat64(),
			}
			all = append(all, arrival{at: p, off: off, noise: 0.3e-3})
		}
		f := solve(all, anyPlace)
		for k := range coefficients {
			chi[k] += math.Pow((f.value[k]-truth[k])/f.sigma[k], 2) / rounds
		}
	}
	for k, c := range chi { // chi squared of 200 rounds over 200: 1 ± 0.1, wide priors pull a little
		if c < 0.6 || c > 1.4 {
			t.Errorf("coefficient %d: mean squared error over its standard error %.2f", k, c)
		}
	}
}

// The evidence is the density of the data: with one offset and only its own
// noise and the shift's prior it is a normal density with the variances added.
func TestEvidenceIsTheDensity(t *testing.T) {
	a := arrival{off: Spot{X: 0.4e-3, Y: -0.2e-3}, noise: 0.3e-3} // at the centre: scale, turn and shear do nothing
	v := 0.3e-3*0.3e-3 + usual[shiftX]*usual[shiftX]
	want := -math.Log(2*math.Pi*v) - a.off.Dot(a.off)/2/v
	if got := solve([]arrival{a}, nil).evidence; math.Abs(got-want) > 1e-9 {
		t.Errorf("evidence %.6f, density %.6f", got, want)
	}
}

// One piece left far short of its end bends nothing.
func TestStragglersAreLeftOut(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	var all []arrival
	for range 20 {
		p := Spot{X: 0.28 * (rnd.Float64() - 0.5), Y: 0.28 * (rnd.Float64() - 0.5)}
		all = append(all, arrival{at: p, off: Spot{X: 0.3e-3 * rnd.NormFloat64(), Y: 0.3e-3 * rnd.NormFloat64()}, noise: 0.3e-3})
	}
	sound := solve(all, anyPlace)
	all = append(all, arrival{at: Spot{X: 0.1, Y: 0.1}, off: Spot{X: -8e-3, Y: 4e-3}, noise: 0.3e-3})
	with := solve(all, anyPlace)
	for k := range coefficients {
		if d := math.Abs(with.value[k] - sound.value[k]); d > 0.05*sound.sigma[k] {
			t.Errorf("coefficient %d moved by %.2f standard errors", k, d/sound.sigma[k])
		}
	}
}
