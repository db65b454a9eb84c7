package diagnosis

import "math"

// matrix is square and symmetric, or its lower triangular root.
type matrix [][]float64

func newMatrix(n int) matrix {
	m := make(matrix, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}

// cholesky returns the lower triangular root L of m = L Lᵀ. m must be positive
// definite; one plus a sum of squares is.
func (m matrix) cholesky() matrix {
	root := newMatrix(len(m))
	for i := range m {
		for j := 0; j <= i; j++ {
			sum := m[i][j]
			for k := range j {
				sum -= root[i][k] * root[j][k]
			}
			if i == j {
				root[i][i] = math.Sqrt(sum)
			} else {
				root[i][j] = sum / root[j][j]
			}
		}
	}
	return root
}

// solve returns x of L Lᵀ x = b.
func (m matrix) solve(b []float64) []float64 {
	n := len(m)
	x := make([]float64, n)
	for i := range n {
		x[i] = b[i]
		for k := range i {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= m[k][i] * x[k]
		}
		x[i] /= m[i][i]
	}
	return x
}

// logDiagonal is half the logarithm of the determinant of L Lᵀ.
func (m matrix) logDiagonal() float64 {
	sum := 0.0
	for i := range m {
		sum += math.Log(m[i][i])
	}
	return sum
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
