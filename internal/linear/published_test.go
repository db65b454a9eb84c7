// SPDX-License-Identifier: Apache-2.0

package linear

import (
	"math"
	"testing"
)

// NIST's Statistical Reference Datasets, linear regression: Norris (calibration of ozone
// monitors) with its certified values, found by least squares from a poor start.
func TestNorris(t *testing.T) {
	data := [][2]float64{ // y, x
		{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3},
		{449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0},
		{448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
		{0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3},
		{228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5},
	}
	q := LeastSquares{Rows: len(data), Tolerance: 1e-15, Step: func(int) float64 { return 1e-4 }, Touches: func(int) (int, int) { return 0, len(data) },
		Residuals: func(p, out []float64, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = data[i][0] - p[0] - p[1]*data[i][1]
			}
		}}
	s, err := q.Minimise([]float64{100, 0}, 100)
	if err != nil {
		t.Fatal(err)
	}
	cov, err := s.Normal.ScaledInverse()
	if err != nil {
		t.Fatal(err)
	}
	sd := math.Sqrt(s.Cost / float64(len(data)-2))
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"B0", s.P[0], -0.262323073774029}, {"B1", s.P[1], 1.00211681802045}, {"residual σ", sd, 0.884796396144373},
		{"σ of B0", sd * math.Sqrt(cov.Row(0)[0]), 0.232818234301152}, {"σ of B1", sd * math.Sqrt(cov.Row(1)[1]), 0.429796848199937e-3},
	} {
		if math.Abs(c.got/c.want-1) > 1e-6 {
			t.Errorf("%s is %.12g, certified %.12g", c.name, c.got, c.want)
		}
	}
}

// Weights by hand: Tukey's is 9/16 at half its limit and nothing from the limit on.
func TestBiweight(t *testing.T) {
	for z, want := range map[float64]float64{0: 1, 2: 0.5625, 4: 0, 9: 0} {
		if got := Biweight(z, 4); math.Abs(got-want) > 1e-15 {
			t.Errorf("at %g: %g, want %g", z, got, want)
		}
	}
}
