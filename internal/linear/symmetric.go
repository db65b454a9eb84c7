// SPDX-License-Identifier: Apache-2.0

// Package linear solves what fits come down to: symmetric linear systems,
// least squares over smooth residuals, and weights that hold outliers down.
// Arithmetic only; units are the caller's.
package linear

import (
	"errors"
	"fmt"
	"math"
)

// ErrSingular says that the equations do not determine what is asked.
var ErrSingular = errors.New("the equations do not determine the answer: give more of them, or such that differ")

// Symmetric is a dense symmetric n × n matrix, row by row. Only the lower
// triangle is read by Factor.
type Symmetric struct {
	n int
	a []float64
}

// NewSymmetric is the zero matrix of n rows.
func NewSymmetric(n int) Symmetric { return Symmetric{n, make([]float64, n*n)} }

// Row is row i, to be read and written; column j is its element j.
func (s Symmetric) Row(i int) []float64 { return s.a[i*s.n : (i+1)*s.n] }

// Scale multiplies every element by k.
func (s Symmetric) Scale(k float64) {
	for i := range s.a {
		s.a[i] *= k
	}
}

// Form is the quadratic form aᵀ S b.
func (s Symmetric) Form(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * Dot(s.Row(i), b)
	}
	return sum
}

// Root is the lower triangular root L of a positive definite matrix L Lᵀ.
type Root struct{ l Symmetric }

// Factor is Cholesky's: it overwrites the lower triangle of s with its root.
// ErrSingular where a pivot is not above pivotFloor of its diagonal element, so
// the diagonal should be of one size (see ScaledInverse).
func (s Symmetric) Factor() (Root, error) {
	for i := range s.n {
		ri := s.Row(i)
		for j := 0; j <= i; j++ {
			rj, sum := s.Row(j), ri[j]
			for k := range j {
				sum -= ri[k] * rj[k]
			}
			if j < i {
				ri[j] = sum / rj[j]
				continue
			}
			if !(sum > pivotFloor*math.Abs(ri[i])) {
				return Root{}, ErrSingular
			}
			ri[i] = math.Sqrt(sum)
		}
	}
	return Root{s}, nil
}

// Whiten replaces b by the y of L y = b: what has the covariance L Lᵀ becomes uncorrelated, of
// variance 1.
func (r Root) Whiten(b []float64) {
	for i := range r.l.n {
		ri := r.l.Row(i)
		for k := range i {
			b[i] -= ri[k] * b[k]
		}
		b[i] /= ri[i]
	}
}

// Solve replaces b by the x of L Lᵀ x = b.
func (r Root) Solve(b []float64) {
	r.Whiten(b)
	s := r.l
	for i := s.n - 1; i >= 0; i-- {
		for k := i + 1; k < s.n; k++ {
			b[i] -= s.Row(k)[i] * b[k]
		}
		b[i] /= s.Row(i)[i]
	}
}

// LogDeterminant is the natural logarithm of the determinant of L, half that
// of L Lᵀ.
func (r Root) LogDeterminant() float64 {
	sum := 0.0
	for i := range r.l.n {
		sum += math.Log(r.l.Row(i)[i])
	}
	return sum
}

// Inverse is the inverse of a positive definite matrix.
func (s Symmetric) Inverse() (Symmetric, error) {
	root := NewSymmetric(s.n)
	copy(root.a, s.a)
	r, err := root.Factor()
	if err != nil {
		return Symmetric{}, err
	}
	inv, col := NewSymmetric(s.n), make([]float64, s.n)
	for j := range s.n {
		clear(col)
		col[j] = 1
		r.Solve(col)
		for i := range s.n {
			inv.Row(i)[j] = col[i]
		}
	}
	return inv, nil
}

// ScaledInverse is Inverse after scaling to a unit diagonal, for unknowns of
// different units; the error names the first that nothing determines.
func (s Symmetric) ScaledInverse() (Symmetric, error) {
	m, d := NewSymmetric(s.n), make([]float64, s.n)
	for i := range d {
		if !(s.Row(i)[i] > 0) {
			return Symmetric{}, fmt.Errorf("coefficient %d of the fit: %w", i, ErrSingular)
		}
		d[i] = 1 / math.Sqrt(s.Row(i)[i])
	}
	for i := range d {
		for j := range d {
			m.Row(i)[j] = s.Row(i)[j] * d[i] * d[j]
		}
	}
	inv, err := m.Inverse()
	if err != nil {
		return Symmetric{}, err
	}
	for i := range d {
		for j := range d {
			inv.Row(i)[j] *= d[i] * d[j]
		}
	}
	return inv, nil
}

// Dot is the scalar product of a with the first len(a) elements of b.
func Dot(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}
