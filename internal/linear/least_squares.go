// SPDX-License-Identifier: Apache-2.0

package linear

import "math"

// LeastSquares is a problem for the method of Levenberg and Marquardt.
type LeastSquares struct {
	Rows int // how many residuals there are
	// Residuals fills out[lo:hi] for the parameters p.
	Residuals func(p, out []float64, lo, hi int)
	// Touches returns the rows that parameter j can change.
	Touches func(j int) (lo, hi int)
	// Step is the width of the difference quotient for parameter j.
	Step func(j int) float64
	// Tolerance ends the search when the cost falls by a smaller share.
	Tolerance float64
}

// Solution is where the minimisation ended.
type Solution struct {
	P      []float64
	Cost   float64   // sum of squares
	Normal Symmetric // JᵀJ at P, or one last small step before it
}

// Minimise runs at most iterations steps from p. ErrSingular where the
// residuals at p have no sum, or do not determine a step.
func (q LeastSquares) Minimise(p []float64, iterations int) (Solution, error) {
	r := make([]float64, q.Rows)
	q.Residuals(p, r, 0, q.Rows)
	s := Solution{P: p, Cost: Dot(r, r)}
	if math.IsNaN(s.Cost) || math.IsInf(s.Cost, 0) {
		return s, ErrSingular
	}
	damping, moved, gradient := firstDamping, true, []float64(nil)
	jac := newJacobian(q, len(p))
	for range iterations {
		if moved {
			jac.fill(s.P, r)
			s.Normal, gradient = jac.normal(r)
		}
		next, err := s.next(gradient, damping)
		if err != nil {
			return s, err
		}
		out := make([]float64, q.Rows)
		q.Residuals(next, out, 0, q.Rows)
		if cost := Dot(out, out); cost < s.Cost {
			arrived := s.Cost-cost <= q.Tolerance*s.Cost
			s.P, s.Cost, r, moved, damping = next, cost, out, true, damping/dampingFactor
			if arrived {
				break
			}
			continue
		}
		moved = false
		if damping *= dampingFactor; damping > mostDamping || s.Cost == 0 {
			break
		}
	}
	return s, nil
}

// next is where a damped step leads.
func (s Solution) next(gradient []float64, damping float64) ([]float64, error) {
	step, err := damped(s.Normal, gradient, damping)
	for i := range step {
		step[i] = s.P[i] - step[i]
	}
	return step, err
}

// damped solves (N + λ diag N) x = g, with N scaled to a unit diagonal.
func damped(n Symmetric, g []float64, damping float64) ([]float64, error) {
	m, x, scale := NewSymmetric(n.n), make([]float64, n.n), make([]float64, n.n)
	for i := range scale {
		d := n.Row(i)[i]
		if !(d > 0) {
			return nil, ErrSingular
		}
		scale[i] = 1 / math.Sqrt(d)
	}
	for i := range scale {
		for j := range scale {
			m.Row(i)[j] = n.Row(i)[j] * scale[i] * scale[j]
		}
		m.Row(i)[i] += damping
		x[i] = g[i] * scale[i]
	}
	root, err := m.Factor()
	if err != nil {
		return nil, err
	}
	root.Solve(x)
	for i := range x {
		x[i] *= scale[i]
	}
	return x, nil
}

// jacobian holds the derivatives column by column, only the rows touched.
type jacobian struct {
	q      LeastSquares
	lo, hi []int
	col    [][]float64
	a      []float64
}

func newJacobian(q LeastSquares, n int) *jacobian {
	j := &jacobian{q: q, a: make([]float64, q.Rows)}
	for k := range n {
		lo, hi := q.Touches(k)
		j.lo, j.hi = append(j.lo, lo), append(j.hi, hi)
		j.col = append(j.col, make([]float64, hi-lo))
	}
	return j
}

// fill takes one-sided difference quotients at p, where the residuals are r.
func (j *jacobian) fill(p, r []float64) {
	p = append([]float64(nil), p...)
	for k := range p {
		at, h, lo, hi := p[k], j.q.Step(k), j.lo[k], j.hi[k]
		p[k] = at + h
		j.q.Residuals(p, j.a, lo, hi)
		p[k] = at
		for i := lo; i < hi; i++ {
			j.col[k][i-lo] = (j.a[i] - r[i]) / h
		}
	}
}

// normal returns JᵀJ and Jᵀr.
func (j *jacobian) normal(r []float64) (Symmetric, []float64) {
	n := len(j.col)
	s, g := NewSymmetric(n), make([]float64, n)
	for a := range n {
		g[a] = Dot(j.col[a], r[j.lo[a]:j.hi[a]])
		for b := 0; b <= a; b++ {
			lo, hi := max(j.lo[a], j.lo[b]), min(j.hi[a], j.hi[b])
			if lo < hi {
				v := Dot(j.col[a][lo-j.lo[a]:hi-j.lo[a]], j.col[b][lo-j.lo[b]:hi-j.lo[b]])
				s.Row(a)[b], s.Row(b)[a] = v, v
			}
		}
	}
	return s, g
}
