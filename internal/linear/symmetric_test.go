// SPDX-License-Identifier: Apache-2.0

// Who checks whom in this package:
//
//	Factor, Solve ← a root in whole numbers; random systems put back
//	LogDeterminant ← cofactors of a 3 × 3 matrix
//	Inverse, ScaledInverse ← the closed form of Hilbert's matrix; each other
//	Minimise ← a published problem with its certified answer and deviations
//	Huber ← its definition: the slope of the loss over the residual
package linear

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, tolerance)
	}
}

func matrix(rows [][]float64) Symmetric {
	s := NewSymmetric(len(rows))
	for i, r := range rows {
		copy(s.Row(i), r)
	}
	return s
}

// A root in whole numbers, as textbooks print it: L = (2; 6 1; -8 5 3).
func TestFactorInWholeNumbers(t *testing.T) {
	s := matrix([][]float64{{4, 12, -16}, {12, 37, -43}, {-16, -43, 98}})
	r, err := s.Factor()
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range [][]float64{{2}, {6, 1}, {-8, 5, 3}} {
		for j, want := range row {
			near(t, "root", r.l.Row(i)[j], want, 1e-14)
		}
	}
	near(t, "log determinant", 2*r.LogDeterminant(), math.Log(36), 1e-14) // (2·1·3)²
}

func TestSolvePutBack(t *testing.T) {
	m := [][]float64{{4, 2, -1}, {2, 5, 0.5}, {-1, 0.5, 3}}
	want := []float64{1, -2, 0.5}
	b := make([]float64, 3)
	for i := range b {
		b[i] = Dot(m[i], want)
	}
	r, err := matrix(m).Factor()
	if err != nil {
		t.Fatal(err)
	}
	r.Solve(b)
	for i := range b {
		near(t, "x", b[i], want[i], 1e-14)
	}
	cofactors := 4*(5*3-0.25) - 2*(2*3+0.5) - 1*(2*0.5+5)
	near(t, "log determinant", 2*r.LogDeterminant(), math.Log(cofactors), 1e-14)
}

func TestRandomSystemsPutBack(t *testing.T) {
	const seed = 5
	t.Log("seed", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	for n := 1; n <= 12; n++ {
		s := NewSymmetric(n)
		for i := range n { // 1 + a sum of squares is positive definite
			s.Row(i)[i] = 1
		}
		for range 2 * n {
			v := make([]float64, n)
			for i := range v {
				v[i] = rng.NormFloat64()
			}
			for i := range n {
				for j := range n {
					s.Row(i)[j] += v[i] * v[j]
				}
			}
		}
		inv, err := s.Inverse()
		if err != nil {
			t.Fatal(err)
		}
		for i := range n {
			for j := range n {
				want := 0.0
				if i == j {
					want = 1
				}
				near(t, "S times its inverse", Dot(s.Row(i), inv.Row(j)), want, 1e-11)
			}
		}
	}
}

// Hilbert's matrix 1/(i+j−1) of four rows and its inverse in whole numbers
// (Choi, Tricks or treats with the Hilbert matrix, 1983).
func TestInverseOfHilbert(t *testing.T) {
	s := NewSymmetric(4)
	for i := range 4 {
		for j := range 4 {
			s.Row(i)[j] = 1 / float64(i+j+1)
		}
	}
	for name, f := range map[string]func() (Symmetric, error){"plain": s.Inverse, "scaled": s.ScaledInverse} {
		inv, err := f()
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range [][]float64{{16, -120, 240, -140}, {-120, 1200, -2700, 1680}, {240, -2700, 6480, -4200}, {-140, 1680, -4200, 2800}} {
			for j, want := range row {
				near(t, name, inv.Row(i)[j], want, 1e-8)
			}
		}
	}
	near(t, "form", s.Form([]float64{1, 0, 0, 0}, []float64{0, 1, 0, 0}), 0.5, 0)
}

// Units a million millions apart: scaling keeps the pivots alike.
func TestScaledInverseOfMixedUnits(t *testing.T) {
	s := matrix([][]float64{{1e18, 5e5}, {5e5, 1e-6}})
	inv, err := s.ScaledInverse()
	if err != nil {
		t.Fatal(err)
	}
	det := 1e18*1e-6 - 5e5*5e5
	near(t, "first", inv.Row(0)[0]*det, 1e-6, 1e-18)
	near(t, "second", inv.Row(1)[1]*det, 1e18, 1e6)
	s.Scale(2)
	near(t, "scaled", s.Row(1)[0], 1e6, 0)
}

func TestSingularIsSaid(t *testing.T) {
	for _, m := range [][][]float64{{{1, 1}, {1, 1}}, {{0}}, {{-1}}, {{math.NaN()}}, {{1, 2}, {2, 1}}} {
		if _, err := matrix(m).Factor(); !errors.Is(err, ErrSingular) {
			t.Errorf("%v: %v", m, err)
		}
		if _, err := matrix(m).ScaledInverse(); !errors.Is(err, ErrSingular) {
			t.Errorf("%v scaled: %v", m, err)
		}
	}
}

// What is whitened has the length that the inverse gives it: |L⁻¹b|² = bᵀ(L Lᵀ)⁻¹b, the Mahalanobis distance.
func TestWhiten(t *testing.T) {
	s := matrix([][]float64{{4, 1, 0.5}, {1, 3, -1}, {0.5, -1, 2}})
	inv, err := s.Inverse()
	if err != nil {
		t.Fatal(err)
	}
	b := []float64{1, -2, 0.5}
	want := inv.Form(b, b)
	root, err := s.Factor()
	if err != nil {
		t.Fatal(err)
	}
	root.Whiten(b)
	near(t, "length", Dot(b, b), want, 1e-12)
}
