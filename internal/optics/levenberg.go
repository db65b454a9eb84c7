package optics

import "math"

// leastSquares is a problem for the method of Levenberg and Marquardt.
type leastSquares struct {
	rows int
	// residuals fills out[lo:hi] for the parameters p.
	residuals func(p, out []float64, lo, hi int)
	// touches returns the rows that parameter j can change.
	touches func(j int) (lo, hi int)
	// step is the width of the difference quotient for parameter j.
	step func(j int) float64
	// tolerance ends the search when the cost falls by a smaller share.
	tolerance float64
}

// The damping starts gentle, falls by ten after a success and rises by ten
// after a failure (Marquardt 1963).
const (
	firstDamping  = 1e-3
	dampingFactor = 10.0
	mostDamping   = 1e12
)

// solution is where the minimisation ended.
type solution struct {
	p      []float64
	cost   float64 // sum of squares
	normal square  // JᵀJ at p, or one last small step before it
}

// minimise runs at most iterations steps from p.
func (q leastSquares) minimise(p []float64, iterations int) (solution, error) {
	r := make([]float64, q.rows)
	q.residuals(p, r, 0, q.rows)
	s := solution{p: p, cost: dot(r, r)}
	if math.IsNaN(s.cost) || math.IsInf(s.cost, 0) {
		return s, ErrSingular
	}
	damping, moved, gradient := firstDamping, true, []float64(nil)
	jac := newJacobian(q, len(p))
	for range iterations {
		if moved {
			jac.fill(s.p, r)
			s.normal, gradient = jac.normal(r)
		}
		next, err := s.next(gradient, damping)
		if err != nil {
			return s, err
		}
		out := make([]float64, q.rows)
		q.residuals(next, out, 0, q.rows)
		if cost := dot(out, out); cost < s.cost {
			arrived := s.cost-cost <= q.tolerance*s.cost
			s.p, s.cost, r, moved, damping = next, cost, out, true, damping/dampingFactor
			if arrived {
				break
			}
			continue
		}
		moved = false
		if damping *= dampingFactor; damping > mostDamping || s.cost == 0 {
			break
		}
	}
	return s, nil
}

// next is where a damped step leads.
func (s solution) next(gradient []float64, damping float64) ([]float64, error) {
	step, err := damped(s.normal, gradient, damping)
	for i := range step {
		step[i] = s.p[i] - step[i]
	}
	return step, err
}

// damped solves (N + λ diag N) x = g, with N scaled to a unit diagonal.
func damped(n square, g []float64, damping float64) ([]float64, error) {
	m, x, scale := newSquare(n.n), make([]float64, n.n), make([]float64, n.n)
	for i := range scale {
		d := n.row(i)[i]
		if !(d > 0) {
			return nil, ErrSingular
		}
		scale[i] = 1 / math.Sqrt(d)
	}
	for i := range scale {
		for j := range scale {
			m.row(i)[j] = n.row(i)[j] * scale[i] * scale[j]
		}
		m.row(i)[i] += damping
		x[i] = g[i] * scale[i]
	}
	if err := m.cholesky(); err != nil {
		return nil, err
	}
	m.backsolve(x)
	for i := range x {
		x[i] *= scale[i]
	}
	return x, nil
}

// jacobian holds the derivatives column by column, only the rows touched.
type jacobian struct {
	q      leastSquares
	lo, hi []int
	col    [][]float64
	a      []float64
}

func newJacobian(q leastSquares, n int) *jacobian {
	j := &jacobian{q: q, a: make([]float64, q.rows)}
	for k := range n {
		lo, hi := q.touches(k)
		j.lo, j.hi = append(j.lo, lo), append(j.hi, hi)
		j.col = append(j.col, make([]float64, hi-lo))
	}
	return j
}

// fill takes one-sided difference quotients at p, where the residuals are r.
func (j *jacobian) fill(p, r []float64) {
	p = append([]float64(nil), p...)
	for k := range p {
		at, h, lo, hi := p[k], j.q.step(k), j.lo[k], j.hi[k]
		p[k] = at + h
		j.q.residuals(p, j.a, lo, hi)
		p[k] = at
		for i := lo; i < hi; i++ {
			j.col[k][i-lo] = (j.a[i] - r[i]) / h
		}
	}
}

// normal returns JᵀJ and Jᵀr.
func (j *jacobian) normal(r []float64) (square, []float64) {
	n := len(j.col)
	s, g := newSquare(n), make([]float64, n)
	for a := range n {
		g[a] = dot(j.col[a], r[j.lo[a]:j.hi[a]])
		for b := 0; b <= a; b++ {
			lo, hi := max(j.lo[a], j.lo[b]), min(j.hi[a], j.hi[b])
			if lo < hi {
				v := dot(j.col[a][lo-j.lo[a]:hi-j.lo[a]], j.col[b][lo-j.lo[b]:hi-j.lo[b]])
				s.row(a)[b], s.row(b)[a] = v, v
			}
		}
	}
	return s, g
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}
