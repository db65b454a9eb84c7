// SPDX-License-Identifier: Apache-2.0

package blocks

import "math"

func (v Vector) to(w Vector) (d Vector) {
	for i := range v {
		d[i] = w[i] - v[i]
	}
	return d
}

// Plus is v + k·w.
func (v Vector) Plus(w Vector, k float64) Vector {
	for i := range v {
		v[i] += k * w[i]
	}
	return v
}

func (v Vector) scaled(k float64) Vector { return Vector{}.Plus(v, k) }

func (v Vector) dot(w Vector) (s float64) {
	for i := range v {
		s += v[i] * w[i]
	}
	return s
}

func (v Vector) norm() float64 { return math.Sqrt(v.dot(v)) }

// limit is the largest multiple of the unit vector v that keeps every axis
// within its own limit.
func (v Vector) limit(axis Vector) float64 {
	k := math.Inf(1)
	for i := range v {
		if v[i] != 0 {
			k = math.Min(k, axis[i]/math.Abs(v[i]))
		}
	}
	return k
}

// Distance between two places, mm.
func (v Vector) Distance(w Vector) float64 { return v.to(w).norm() }
