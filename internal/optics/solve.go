package optics

import (
	"errors"
	"math"
)

// ErrSingular says that the data do not determine what is asked.
var ErrSingular = errors.New("the corners do not determine the answer: too few, or all in one line")

// square is a dense symmetric matrix, row major.
type square struct {
	n int
	a []float64
}

func newSquare(n int) square { return square{n, make([]float64, n*n)} }

func (s square) row(i int) []float64 { return s.a[i*s.n : (i+1)*s.n] }

// pivotFloor is the least pivot of a scaled positive definite matrix (unit
// diagonal) taken for other than zero: a thousand rounding steps.
const pivotFloor = 1e-13

// cholesky replaces s by its lower triangular root L, s = L Lᵀ.
func (s square) cholesky() error {
	for i := range s.n {
		ri := s.row(i)
		for j := 0; j <= i; j++ {
			rj, sum := s.row(j), ri[j]
			for k := range j {
				sum -= ri[k] * rj[k]
			}
			if j < i {
				ri[j] = sum / rj[j]
				continue
			}
			if !(sum > pivotFloor*math.Abs(ri[i])) {
				return ErrSingular
			}
			ri[i] = math.Sqrt(sum)
		}
	}
	return nil
}

// backsolve solves L Lᵀ x = b in place, s being the root L.
func (s square) backsolve(b []float64) {
	for i := range s.n {
		ri := s.row(i)
		for k := range i {
			b[i] -= ri[k] * b[k]
		}
		b[i] /= ri[i]
	}
	for i := s.n - 1; i >= 0; i-- {
		for k := i + 1; k < s.n; k++ {
			b[i] -= s.row(k)[i] * b[k]
		}
		b[i] /= s.row(i)[i]
	}
}

// inverse returns the inverse of a symmetric positive definite matrix.
func (s square) inverse() (square, error) {
	root := newSquare(s.n)
	copy(root.a, s.a)
	if err := root.cholesky(); err != nil {
		return square{}, err
	}
	inv, col := newSquare(s.n), make([]float64, s.n)
	for j := range s.n {
		clear(col)
		col[j] = 1
		root.backsolve(col)
		for i := range s.n {
			inv.row(i)[j] = col[i]
		}
	}
	return inv, nil
}
