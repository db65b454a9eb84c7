// SPDX-License-Identifier: Apache-2.0

package linear

import (
	"errors"
	"math"
	"testing"
)

// NIST, Statistical Reference Datasets, nonlinear regression, Misra1a: y = b1(1
// − exp(−b2·x)); volumes over pressures, certified answer, deviations and sum
// of squares.
var (
	misraX = []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0}
	misraY = []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}
)

func misra() LeastSquares {
	return LeastSquares{
		Rows: len(misraX),
		Residuals: func(p, out []float64, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = p[0]*(1-math.Exp(-p[1]*misraX[i])) - misraY[i]
			}
		},
		Touches:   func(int) (int, int) { return 0, len(misraX) },
		Step:      func(j int) float64 { return []float64{1e-4, 1e-10}[j] },
		Tolerance: 1e-14,
	}
}

func TestMinimisePublished(t *testing.T) {
	for _, start := range [][]float64{{500, 0.0001}, {250, 0.0005}} { // NIST's two starts
		s, err := misra().Minimise(start, 200)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "b1", s.P[0], 238.94212918, 1e-4)
		near(t, "b2", s.P[1], 5.5015643181e-4, 1e-9)
		near(t, "sum of squares", s.Cost, 0.12455138894, 1e-9)
		cov, err := s.Normal.ScaledInverse()
		if err != nil {
			t.Fatal(err)
		}
		variance := s.Cost / float64(len(misraX)-2)
		near(t, "deviation of b1", math.Sqrt(cov.Row(0)[0]*variance), 2.7070075241, 1e-3)
		near(t, "deviation of b2", math.Sqrt(cov.Row(1)[1]*variance), 7.2668688436e-6, 3e-9)
	}
}

// A parameter that no residual feels has no answer.
func TestMinimiseSaysWhatIsNotDetermined(t *testing.T) {
	q := misra()
	q.Residuals = func(p, out []float64, lo, hi int) {
		for i := lo; i < hi; i++ {
			out[i] = p[0] - misraY[i]
		}
	}
	if _, err := q.Minimise([]float64{1, 1}, 10); !errors.Is(err, ErrSingular) {
		t.Errorf("got %v", err)
	}
	if _, err := misra().Minimise([]float64{math.NaN(), 1}, 10); !errors.Is(err, ErrSingular) {
		t.Errorf("no number: got %v", err)
	}
}

// Where each parameter touches its own rows, the others' are left out.
func TestMinimiseKeepsToTheRowsTouched(t *testing.T) {
	q := LeastSquares{
		Rows: 4,
		Residuals: func(p, out []float64, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = p[i/2] - float64(i)
			}
		},
		Touches:   func(j int) (int, int) { return 2 * j, 2*j + 2 },
		Step:      func(int) float64 { return 1e-6 },
		Tolerance: 1e-12,
	}
	s, err := q.Minimise([]float64{9, 9}, 50)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of 0 and 1", s.P[0], 0.5, 1e-6)
	near(t, "mean of 2 and 3", s.P[1], 2.5, 1e-6)
}
