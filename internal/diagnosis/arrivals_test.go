// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"math/rand/v2"
	"os"
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
		truth[seen] = usual[seen] * rnd.NormFloat64() // which the axes' own scales do not tell apart from theirs
		var all []arrival
		for range 30 {
			p := Spot{X: 0.28 * (rnd.Float64() - 0.5), Y: 0.28 * (rnd.Float64() - 0.5)}
			off := Spot{
				X: truth[shiftX] + (truth[scaleX]+truth[seen])*p.X - truth[turn]*p.Y + truth[shear]*p.Y/2 + 0.3e-3*rnd.NormFloat64(),
				Y: truth[shiftY] + (truth[scaleY]+truth[seen])*p.Y + truth[turn]*p.X + truth[shear]*p.X/2 + 0.3e-3*rnd.NormFloat64(),
			}
			all = append(all, arrival{at: p, off: off, noise: 0.3e-3})
		}
		f := solve(all, anyPlace, 0)
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
	if got := solve([]arrival{a}, nil, 0).evidence; math.Abs(got-want) > 1e-9 {
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
	sound := solve(all, anyPlace, 0)
	all = append(all, arrival{at: Spot{X: 0.1, Y: 0.1}, off: Spot{X: -8e-3, Y: 4e-3}, noise: 0.3e-3})
	with := solve(all, anyPlace, 0)
	for k := range coefficients {
		if d := math.Abs(with.value[k] - sound.value[k]); d > 0.05*sound.sigma[k] {
			t.Errorf("coefficient %d moved by %.2f standard errors", k, d/sound.sigma[k])
		}
	}
}

// What a machine is read as by pictures that are biased by half a millimetre
// and more, and scatter less than their sigmas say: an angle of half a degree is
// named within an evening, and a sound machine is not accused of one.
func TestBiasedPicturesHideNoAngle(t *testing.T) {
	const machines = 100
	named, accused := 0, 0
	for seed := range uint64(machines) {
		for _, angle := range []float64{0, 8.7e-3} {
			s := newStream(seed)
			bias := Spot{X: 0.5e-3 * s.rnd.NormFloat64(), Y: 0.9e-3 * s.rnd.NormFloat64()}
			c := newCase(t)
			for range 20 {
				y := s.carry()
				y.Found = s.blur(y.To.Add(bias).Add(Spot{X: angle * (y.To.Y + 0.16)}), 0.35e-3)
				y.Sigma = 0.8e-3
				c.Add(y)
			}
			switch f := first(c); {
			case angle == 0 && f.Named:
				accused++
				t.Logf("seed %d: a sound machine is accused of %s %s", seed, f.Cause, f.Axis)
			case angle != 0 && f.Cause == AxesOutOfSquare:
				named++
			}
		}
	}
	t.Logf("of %d machines out of square %d are named; of as many sound ones %d are accused", machines, named, accused)
	if named < 90 || accused > 2 {
		t.Errorf("%d named of %d, %d accused", named, machines, accused)
	}
}

// However few pieces have come: a sound machine, whose frame is as true as a rule and a square
// leave it, is accused of nothing, and half a degree is named once the places tell it.
func TestFewArrivalsAccuseNoAngle(t *testing.T) {
	machines := 12
	if os.Getenv("BOARDHAND_LONG") == "1" {
		machines = 60
	}
	wrong := 0
	for _, scatter := range []float64{0.3e-3, 0.8e-3} {
		for _, n := range []int{3, 4, 6, 12} {
			named, accused := 0, 0
			for seed := range uint64(machines) {
				for _, angle := range []float64{0, 8.7e-3} {
					s := newStream(100 + seed)
					var sound [coefficients]float64
					for k, sigma := range usual {
						sound[k] = sigma * s.rnd.NormFloat64()
					}
					c := newCase(t)
					for range n {
						y := s.carry()
						x, z := y.To.X, y.To.Y
						off := Spot{X: sound[shiftX] + (sound[scaleX]+sound[seen])*x - sound[turn]*z + sound[shear]*z/2, Y: sound[shiftY] + (sound[scaleY]+sound[seen])*z + sound[turn]*x + sound[shear]*x/2}
						y.Found = s.blur(y.To.Add(off).Add(Spot{X: angle * (z + 0.16)}), scatter)
						y.Sigma = 0.8e-3
						c.Add(y)
					}
					switch f := first(c); {
					case angle == 0 && f.Named:
						accused++
						t.Logf("scatter %g, %d arrivals, seed %d: a sound machine is accused of %s %s, belief %.3f", scatter, n, seed, f.Cause, f.Axis, f.Belief)
					case angle != 0 && f.Cause == AxesOutOfSquare:
						named++
					}
				}
			}
			t.Logf("scatter %.1f mm, %d arrivals: of %d machines out of square %d are named; of as many sound ones %d are accused", scatter*1e3, n, machines, named, accused)
			if wrong += accused; n == 12 && scatter < 0.5e-3 && 2*named < machines {
				t.Errorf("scatter %.1f mm, %d arrivals: %d of %d machines out of square are named", scatter*1e3, n, named, machines)
			}
		}
	}
	if 50*wrong > 8*machines {
		t.Errorf("of %d sound machines %d are accused", 8*machines, wrong)
	}
}
