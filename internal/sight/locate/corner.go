// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"

	"boardhand/internal/frame"
)

// expectedCorner is what is expected around a corner: where it lies and how one step
// to the next corner runs in the picture.
type expectedCorner struct {
	at   frame.Spot[frame.Image]
	i, j frame.Spot[frame.Image] // steps along the two lattice directions, px
	// exact says that the directions come from a fitted view; otherwise they
	// are turned to fit.
	exact bool
	// far says that the place may be several px off: look with a wide edge first.
	far bool
}

// corner is a measured corner of four fields.
type corner struct {
	at       frame.Spot[frame.Image]
	sigma    float64 // of each coordinate, px
	contrast float64 // half the difference of the fields, levels; positive: light where i and j have one sign
	residual float64 // what the four-field model leaves, levels
}

// unknowns of a corner's fit: four field values, the edges' half width, two
// shifts, two turns of the edges.
const unknowns = 9

// normalEquations is the least-squares work of one corner.
type normalEquations struct {
	size int // unknowns in use: 4, 7 or all
	n    [unknowns][unknowns]float64
	g    [unknowns]float64
	even [2][2]struct{ w, r float64 } // pixels off the edges, by field: weight, weighted residual

	limit              float64 // of the squared residual's weight, 0: all count alike
	sum, weight, count float64 // of the squared residuals, weighed; of the weights; of the pixels
}

// measure fits four fields of even brightness, parted by two soft edges, to
// the pixels around the expected corner. It is false when no chequer corner
// is there. Accurate to 0.02–0.1 px on clean pictures, within about 3 px of
// the expectation.
func measure(g *image.Gray, m expectedCorner) (corner, bool) {
	f, ok := newCornerFit(g, m)
	if !ok {
		return corner{}, false
	}
	last := 0.0
	for step := range cornerSteps {
		if m.far && step == wideSteps {
			f.half = edgeHalf
		}
		du, dv, ok := f.improve(step > 0)
		if !ok || f.hopeless() {
			return corner{}, false
		}
		if last = math.Abs(du) + math.Abs(dv); last < 5e-3 && step > 1 && (step > wideSteps || !m.far) {
			break
		}
	}
	if last > mostLast {
		return corner{}, false
	}
	return f.judge()
}

// cornerFit is the state of one measurement.
type cornerFit struct {
	g      *image.Gray
	m      expectedCorner
	at     frame.Spot[frame.Image]
	ni, nj frame.Spot[frame.Image] // unit normals: distance from the edge along j, along i
	reach  float64
	half   float64    // half the width over which an edge changes, px
	field  [4]float64 // mean, part changing with i, with j, with both
	scale  float64    // robust residual, levels
	vv     float64    // variance of the shift by the fit
}

func newCornerFit(g *image.Gray, m expectedCorner) (*cornerFit, bool) {
	li, lj := m.i.Norm(), m.j.Norm()
	cross := m.i.X*m.j.Y - m.i.Y*m.j.X
	if !(math.Abs(cross) > 0.3*li*lj) {
		return nil, false
	}
	s := math.Copysign(1, cross)
	f := &cornerFit{g: g, m: m, at: m.at, half: edgeHalf}
	if m.far {
		f.half = wideHalf
	}
	// Distance from the line through j, positive towards +i; and the other.
	f.ni = frame.Spot[frame.Image]{X: s * m.j.Y / lj, Y: -s * m.j.X / lj}
	f.nj = frame.Spot[frame.Image]{X: -s * m.i.Y / li, Y: s * m.i.X / li}
	f.reach = math.Min(windowMost, windowShare*math.Min(li, lj))
	return f, true
}

// soft is an edge: −1 to 1 over ±edgeHalf, and its slope.
func soft(t, half float64) (e, d float64) {
	u := t / half
	switch {
	case u >= 1:
		return 1, 0
	case u <= -1:
		return -1, 0
	}
	return u * (1.5 - 0.5*u*u), 1.5 * (1 - u*u) / half
}

// improve makes one Gauss-Newton step; with robust set, pixels far from the
// model (a piece's rim, a speck) count little.
func (f *cornerFit) improve(robust bool) (du, dv float64, ok bool) {
	x0, x1 := int(math.Ceil(f.at.X-f.reach)), int(f.at.X+f.reach)
	y0, y1 := int(math.Ceil(f.at.Y-f.reach)), int(f.at.Y+f.reach)
	if x0 < 0 || y0 < 0 || x1 >= f.g.Rect.Dx() || y1 >= f.g.Rect.Dy() {
		return 0, 0, false
	}
	q := normalEquations{size: unknowns}
	if !robust { // the first pass knows no fields yet, so nothing else
		q.size = 4
	} else if f.m.exact {
		q.size = 7
	}
	if robust {
		far := strayLoose
		if f.m.exact {
			far = strayTight
		}
		q.limit = 1 / math.Pow(math.Max(3, far*f.scale), 2)
	}
	for y := y0; y <= y1; y++ {
		f.gather(&q, f.g.Pix[y*f.g.Stride+x0:][:x1-x0+1], float64(x0)-f.at.X, float64(y)-f.at.Y)
	}
	q.addFields()
	return f.take(&q, robust, q.sum/q.weight, q.weight/q.count)
}

// gather takes in a row of pixels; px, py is its first pixel seen from the corner.
func (f *cornerFit) gather(q *normalEquations, row []uint8, px, py float64) {
	for _, level := range row {
		ti, tj := px*f.ni.X+py*f.ni.Y, px*f.nj.X+py*f.nj.Y
		ei, di := soft(ti, f.half)
		ej, dj := soft(tj, f.half)
		r := float64(level) - f.field[0] - f.field[1]*ei - f.field[2]*ej - f.field[3]*ei*ej
		w := 1 / (1 + r*r*q.limit)
		w *= w
		q.sum, q.weight, q.count = q.sum+w*r*r, q.weight+w, q.count+1
		if di == 0 && dj == 0 {
			q.addEven(ei, ej, r, w)
		} else {
			a := di * (f.field[1] + f.field[3]*ej) // brightness gained a px towards +i
			b := dj * (f.field[2] + f.field[3]*ei)
			q.add([unknowns]float64{1, ei, ej, ei * ej, -(a*ti + b*tj) / f.half,
				-a*f.ni.X - b*f.nj.X, -a*f.ni.Y - b*f.nj.Y,
				a * (py*f.ni.X - px*f.ni.Y), b * (py*f.nj.X - px*f.nj.Y)}, r, w)
		}
		px++
	}
}

// take applies the solution of the normal equations.
func (f *cornerFit) take(q *normalEquations, robust bool, variance, kept float64) (du, dv float64, ok bool) {
	x, vv, ok := q.solve()
	if !ok || kept < 0.3 {
		return 0, 0, false
	}
	for i := range f.field {
		f.field[i] += x[i]
	}
	du, dv = clip(x[5], 1.5), clip(x[6], 1.5)
	f.half = math.Max(0.7, math.Min(5, f.half+clip(x[4], 0.4)))
	f.ni, f.nj = turnedBy(f.ni, clip(x[7], 0.1)), turnedBy(f.nj, clip(x[8], 0.1))
	f.at.X, f.at.Y = f.at.X+du, f.at.Y+dv
	f.scale = math.Sqrt(variance)
	if !robust {
		f.scale = math.Abs(f.field[3])
	}
	f.vv = vv * variance
	return du, dv, true
}

func clip(x, limit float64) float64 { return math.Max(-limit, math.Min(limit, x)) }

// turnedBy turns a unit vector by a small angle.
func turnedBy(n frame.Spot[frame.Image], a float64) frame.Spot[frame.Image] {
	s, c := math.Sincos(a)
	return frame.Spot[frame.Image]{X: c*n.X - s*n.Y, Y: s*n.X + c*n.Y}
}

// add takes in one pixel: the derivatives a, its residual and weight.
func (q *normalEquations) add(a [unknowns]float64, r, w float64) {
	for i := range q.size {
		k := w * a[i]
		q.g[i] += k * r
		row := &q.n[i]
		for j := 0; j <= i; j++ {
			row[j] += k * a[j]
		}
	}
}

// addEven takes in a pixel off both edges; only the fields' values touch it.
func (q *normalEquations) addEven(ei, ej, r, w float64) {
	i, j := 0, 0
	if ei > 0 {
		i = 1
	}
	if ej > 0 {
		j = 1
	}
	e := &q.even[i][j]
	e.w, e.r = e.w+w, e.r+w*r
}

// addFields adds the even pixels to the equations.
func (q *normalEquations) addFields() {
	size := q.size
	q.size = 4
	for i, ei := range [2]float64{-1, 1} {
		for j, ej := range [2]float64{-1, 1} {
			if e := q.even[i][j]; e.w > 0 {
				q.add([unknowns]float64{1, ei, ej, ei * ej}, e.r/e.w, e.w)
			}
		}
	}
	q.size = size
}

// solve returns the solution and the larger variance of the shifts in units of
// the residuals', by Cholesky's method on the lower triangle.
func (q *normalEquations) solve() (x [unknowns]float64, vv float64, ok bool) {
	l := &q.n
	for i := range q.size {
		for j := 0; j <= i; j++ {
			s := l[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = s / l[j][j]
			} else if s <= 1e-9 {
				return x, 0, false
			} else {
				l[i][i] = math.Sqrt(s)
			}
		}
	}
	x = q.g
	q.backsolve(&x)
	if q.size < 7 {
		return x, 0, true
	}
	for k := 5; k <= 6; k++ {
		var e [unknowns]float64
		e[k] = 1
		q.backsolve(&e)
		vv = math.Max(vv, e[k])
	}
	return x, vv, true
}

// backsolve solves L Lᵀ x = b in place.
func (q *normalEquations) backsolve(x *[unknowns]float64) {
	l := &q.n
	for i := range q.size {
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	for i := q.size - 1; i >= 0; i-- {
		for k := i + 1; k < q.size; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
}

// hopeless says early that no chequer corner is near: its contrast would show
// before the shift is right.
func (f *cornerFit) hopeless() bool {
	c := math.Abs(f.field[3])
	return c < leastContrast/2 || c < 0.3*math.Max(math.Abs(f.field[1]), math.Abs(f.field[2]))
}

// judge accepts or refuses what the fit ended with.
func (f *cornerFit) judge() (corner, bool) {
	c := math.Abs(f.field[3])
	step := math.Min(f.m.i.Norm(), f.m.j.Norm())
	if c < leastContrast || f.scale > mostResidual*c || f.at.Distance(f.m.at) > wander*step ||
		math.Max(math.Abs(f.field[1]), math.Abs(f.field[2])) > mostOneSided*c {
		return corner{}, false
	}
	return corner{at: f.at, contrast: f.field[3], residual: f.scale, sigma: math.Sqrt(f.vv*2 + cornerNoise*cornerNoise)}, true
}
