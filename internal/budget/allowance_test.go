// SPDX-License-Identifier: Apache-2.0

package budget

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The largest of n standard normal ones: expected value and standard deviation as tabled by
// Teichroew, Ann. Math. Stat. 27 (1956) 410 (from memory): 0.5642 and 0.8256 of two, 1.1630
// and 0.6690 of five, 1.5388 and 0.5868 of ten. Blom's approximation is good to 4 %.
func TestLargestAgainstTheTables(t *testing.T) {
	for n, want := range map[int]Allowance{1: {0, 1}, 2: {0.56419, 0.82565}, 5: {1.16296, 0.66898}, 10: {1.53875, 0.58681}} {
		if got := Largest([]Crowd{{Count: n, Allowance: Allowance{0, 1}}}); math.Abs(got.Mean-want.Mean) > 1e-3 || math.Abs(got.Sigma-want.Sigma) > 1e-3 {
			t.Errorf("largest of %d: %.4f ± %.4f, want %.4f ± %.4f", n, got.Mean, got.Sigma, want.Mean, want.Sigma)
		}
		if got := WorstOf(n, 1); math.Abs(got.Mean-want.Mean) > 0.04 || math.Abs(got.Sigma-want.Sigma) > 0.04 {
			t.Errorf("largest of %d by Blom: %.4f ± %.4f, want %.4f ± %.4f", n, got.Mean, got.Sigma, want.Mean, want.Sigma)
		}
	}
}

// Evenly spread ones alone: the largest of n has n/(n+1) of the width on the average, and
// √(n/(n+2))/(n+1) of it as standard deviation (closed form).
func TestLargestOfEvenOnes(t *testing.T) {
	for _, n := range []int{1, 3, 8} {
		got, m := Largest([]Crowd{{n, Allowance{0, 0.01}, 1}}), float64(n)
		if math.Abs(got.Mean-m/(m+1)) > 5e-3 || math.Abs(got.Sigma-math.Sqrt(m/(m+2))/(m+1)) > 5e-3 {
			t.Errorf("largest of %d: %.4f ± %.4f", n, got.Mean, got.Sigma)
		}
	}
}

// Crowds of unlike pieces, and a quantile of two tails with an error on top, are those of
// many draws.
func TestAllowancesAgainstDraws(t *testing.T) {
	const draws = 200_000
	chance := rand.New(rand.NewPCG(4, 2))
	crowds := []Crowd{{1, Allowance{0, 0.06}, 0.1}, {8, Allowance{-0.1, 0.05}, 0.1}}
	var sum, squares float64
	for range draws {
		most := math.Inf(-1)
		for _, c := range crowds {
			for range c.Count {
				most = max(most, c.Mean+c.Sigma*chance.NormFloat64()+c.Most*chance.Float64())
			}
		}
		sum, squares = sum+most, squares+most*most
	}
	mean := sum / draws
	sigma := math.Sqrt(squares/draws - mean*mean)
	if got := Largest(crowds); math.Abs(got.Mean-mean) > 1e-3 || math.Abs(got.Sigma-sigma) > 1e-3 {
		t.Errorf("%.4f ± %.4f, drawn %.4f ± %.4f", got.Mean, got.Sigma, mean, sigma)
	}
	tails := [2]Allowance{{1, 0.3}, {0.9, 0.25}}
	for _, own := range []Tolerance{{Within: 0.5, Shape: Normal, IsLength: true}, {Within: 0.6, Shape: Uniform, IsLength: true}, {Within: 0.6, Shape: Triangular, IsLength: true}, {Shape: Normal, IsLength: true}} {
		at := Quantile(tails, own, 1.645)
		beyond := 0
		for range draws {
			size := math.Abs(own.Draw(chance))
			for i, z := range [2]float64{chance.NormFloat64(), chance.NormFloat64()} { // both tails at once count twice: 0.25 %
				if tails[i].Mean+tails[i].Sigma*z+size > at {
					beyond++
				}
			}
		}
		if share := float64(beyond) / draws; math.Abs(share-0.05) > 0.003 {
			t.Errorf("%v %s: %.4f beyond, want 0.05", own.Within, own.Shape, share)
		}
	}
}

// TestPart: a sum of two lacks just as many standard deviations as asked where each has its
// part of them, and no place that lacks as much is likelier: here in closed form, for a
// hypotenuse of 5.
func TestPart(t *testing.T) {
	a, b := Allowance{1, 3}, Allowance{2, 4}
	all := a.And(b)
	x, y := a.Part(all, 2), b.Part(all, 2)
	if want := all.Mean + 2*all.Sigma; math.Abs(x+y-want) > 1e-12 {
		t.Errorf("%g and %g, together not %g", x, y, want)
	}
	if far := math.Hypot((x-1)/3, (y-2)/4); math.Abs(far-2) > 1e-12 {
		t.Errorf("%g standard deviations off the mean, want 2", far)
	}
	if got := (Allowance{Mean: 0.5}).Part(Allowance{}, 3); got != 0.5 {
		t.Errorf("of what is certain: %g", got)
	}
}
