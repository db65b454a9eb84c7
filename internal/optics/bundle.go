// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
)

// bundle is the least-squares problem of one lens and several poses.
// Parameters: the free lens coefficients, then six a view (a small rotation
// vector and a shift in the camera frame, from the view's start), then how
// much there is of each way in which the board may rise.
type bundle struct {
	prior Prior
	lens  Lens
	free  []int
	known []int
	poses []frame.Pose[frame.Camera, frame.Board]
	seen  [][]Corner
	first []int         // first residual row of each view
	rows  int           // of the corners; prior rows follow
	rises [][][]float64 // of each corner of each view: the share of each way
	root  linear.Root   // of the correlations of what is known
}

func newBundle(start []View, seen [][]Corner, prior Prior) *bundle {
	b := &bundle{prior: prior, lens: start[0].Lens, free: prior.free(), known: prior.known(), seen: seen}
	b.hold()
	for i, v := range start {
		b.poses = append(b.poses, v.CameraFromBoard)
		b.first = append(b.first, b.rows)
		b.rows += 2 * len(seen[i])
		b.rises = append(b.rises, prior.rises(seen[i]))
	}
	b.first = append(b.first, b.rows)
	return b
}

// hold puts the prior's value into every coefficient that is not free.
func (b *bundle) hold() {
	want, sigma, have := b.prior.Lens.coefficients(), b.prior.Sigma.coefficients(), b.lens.coefficients()
	for i := range have {
		if *sigma[i] == 0 && !(b.prior.Square && i == 1) {
			*have[i] = *want[i]
		}
	}
	b.tie(&b.lens)
}

func (b *bundle) tie(l *Lens) {
	if b.prior.Square {
		l.Fy = l.Fx * b.prior.Lens.Fy / b.prior.Lens.Fx
	}
}

// rises are the shares of each way of rising at each corner.
func (p Prior) rises(seen []Corner) [][]float64 {
	out := make([][]float64, len(seen))
	for k, c := range seen {
		for _, r := range p.Relief {
			out[k] = append(out[k], r.Of(c.Board.Spot()))
		}
	}
	return out
}

// total counts all residuals: corners, known coefficients, rises, known height.
func (b *bundle) total() int {
	n := b.rows + len(b.known) + len(b.prior.Relief)
	if b.prior.knowsHeight() {
		n += len(b.poses)
	}
	return n
}

// measured counts the residuals that carry a measurement: an edge has one, not two.
func (b *bundle) measured() float64 {
	n := b.total()
	for _, seen := range b.seen {
		for _, c := range seen {
			if c.onEdge() {
				n--
			}
		}
	}
	return float64(n)
}

func (b *bundle) solve(tolerance float64) (linear.Solution, error) {
	p := make([]float64, b.reliefAt()+len(b.prior.Relief))
	if b.total() < len(p) {
		return linear.Solution{}, ErrSingular
	}
	var err error
	if b.root, err = b.prior.root(len(b.known)); err != nil {
		return linear.Solution{}, err
	}
	for i, k := range b.free {
		p[i] = *b.lens.coefficients()[k]
	}
	q := linear.LeastSquares{Rows: b.total(), Residuals: b.residuals, Touches: b.touches,
		Step: func(j int) float64 { return stepOf(b.free, j) }, Tolerance: tolerance}
	s, err := q.Minimise(p, fitSteps)
	return s, determined(err)
}

// reliefAt is the place of the first rise among the parameters.
func (b *bundle) reliefAt() int { return len(b.free) + 6*len(b.poses) }

// stepOf is the width of difference quotients.
func stepOf(free []int, j int) float64 {
	if j < len(free) && free[j] < 4 {
		return pixelStep
	}
	return smallStep
}

// touches: a view's own parameters change only its rows, and its height row.
func (b *bundle) touches(j int) (lo, hi int) {
	if j < len(b.free) || j >= b.reliefAt() || b.prior.knowsHeight() {
		return 0, b.total()
	}
	v := (j - len(b.free)) / 6
	return b.first[v], b.first[v+1]
}

func (b *bundle) unpack(p []float64) (Lens, []frame.Pose[frame.Camera, frame.Board]) {
	l := b.lens
	for i, k := range b.free {
		*l.coefficients()[k] = p[i]
	}
	b.tie(&l)
	poses := make([]frame.Pose[frame.Camera, frame.Board], len(b.poses))
	for i := range poses {
		poses[i] = turned(b.poses[i], p[len(b.free)+6*i:])
	}
	return l, poses
}

func (b *bundle) residuals(p, out []float64, lo, hi int) {
	l, poses := b.unpack(p)
	for i, pose := range poses {
		if b.first[i] >= hi || b.first[i+1] <= lo {
			continue
		}
		v := View{l, pose}
		for k, c := range b.seen[i] {
			c.Board.Z += linear.Dot(b.rises[i][k], p[b.reliefAt():])
			out[b.first[i]+2*k], out[b.first[i]+2*k+1] = v.miss(c)
		}
	}
	if hi <= b.rows {
		return
	}
	row, mean, sigma, have := b.rows, b.prior.Lens.coefficients(), b.prior.Sigma.coefficients(), l.coefficients()
	for i, k := range b.known {
		out[row+i] = (*have[k] - *mean[k]) / *sigma[k]
	}
	b.root.Whiten(out[row:][:len(b.known)])
	row += len(b.known)
	for k, r := range b.prior.Relief {
		out[row] = p[b.reliefAt()+k] / r.Sigma
		row++
	}
	if b.prior.knowsHeight() {
		for _, pose := range poses {
			out[row] = (View{l, pose}.Camera().Z - b.prior.Height) / b.prior.HeightSigma
			row++
		}
	}
}

// miss is the distance between where a corner is predicted and where it was
// seen, over its sigma.
func (v View) miss(c Corner) (du, dv float64) {
	px, ok := v.Project(c.Board)
	if !ok {
		return behind, behind
	}
	d := px.Sub(c.Seen)
	if c.Sigma > 0 {
		d = d.Scale(1 / c.Sigma)
	}
	if c.onEdge() {
		return d.Dot(c.Normal), 0
	}
	return d.X, d.Y
}

// squares is the sum of squared distances in px over view i, and how many
// corners it has; places on edges do not count.
func (b *bundle) squares(p []float64, i int) (sum float64, n int) {
	l, poses := b.unpack(p)
	v := View{l, poses[i]}
	for k, c := range b.seen[i] {
		if c.onEdge() {
			continue
		}
		c.Sigma = 0
		c.Board.Z += linear.Dot(b.rises[i][k], p[b.reliefAt():])
		du, dv := v.miss(c)
		sum, n = sum+du*du+dv*dv, n+1
	}
	return sum, n
}

// deviations spreads the covariance's diagonal over the lens, times a factor.
func (b *bundle) deviations(cov linear.Symmetric, factor float64) Lens {
	var l Lens
	for i, k := range b.free {
		*l.coefficients()[k] = factor * math.Sqrt(math.Max(0, cov.Row(i)[i]))
	}
	if b.prior.Square {
		l.Fy = l.Fx * b.prior.Lens.Fy / b.prior.Lens.Fx
	}
	return l
}
