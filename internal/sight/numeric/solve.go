// SPDX-License-Identifier: Apache-2.0

package numeric

import "math"

// Solve solves the linear system given as n rows of n+1 numbers, which it
// overwrites; false when it is singular. It eliminates with pivots; the Cholesky root of
// package linear rounds otherwise in the last bits, on which recorded readings hang.
func Solve(m [][]float64) ([]float64, bool) {
	n := len(m)
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if !(math.Abs(m[p][c]) > 1e-12) {
			return nil, false
		}
		m[c], m[p] = m[p], m[c]
		for r := c + 1; r < n; r++ {
			f := m[r][c] / m[c][c]
			for k := c; k <= n; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	x := make([]float64, n)
	for r := n - 1; r >= 0; r-- {
		s := m[r][n]
		for k := r + 1; k < n; k++ {
			s -= m[r][k] * x[k]
		}
		x[r] = s / m[r][r]
	}
	return x, true
}
