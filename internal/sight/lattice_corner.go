package sight

import (
	"image"
	"math"

	"boardhand/internal/frame"
)

// meeting is what is expected around a corner: where it lies and how one step
// to the next corner runs in the picture.
type meeting struct {
	at   frame.Spot[frame.Image]
	i, j frame.Spot[frame.Image] // steps along the two lattice directions, px
	// exact says that the directions come from a fitted view; otherwise they
	// are turned to fit.
	exact bool
}

// corner is a measured corner of four fields.
type corner struct {
	at       frame.Spot[frame.Image]
	sigma    float64 // of each coordinate, px
	contrast float64 // half the difference of the fields, levels; positive: light where i and j have one sign
	residual float64 // what the four-field model leaves, levels
}

const (
	// edgeHalf is half the width, px, over which an edge changes: lens blur,
	// the sensor's grid and JPEG together.
	edgeHalf = 1.8
	// windowShare of a step is looked at on each side, at most windowMost px
	// and at least windowLeast: enough edge to average noise, clear of men.
	windowShare, windowMost, windowLeast = 0.34, 11.0, 4.0
	cornerSteps                          = 8
	// cornerNoise is added to every stated sigma, px: what JPEG blocks, print
	// and veneer shift a corner that noise alone would not.
	cornerNoise = 0.10
)

// unknowns of a corner's fit: four field values, the edges' half width, two
// turns of the edges, two shifts.
const unknowns = 9

// quads is the least-squares work of one corner.
type quads struct {
	n [unknowns][unknowns]float64
	g [unknowns]float64
}

// measure fits four fields of even brightness, parted by two soft edges, to
// the pixels around the expected corner. It is false when no chequer corner
// is there. Accurate to 0.02–0.1 px on clean pictures, within about 3 px of
// the expectation.
func measure(g *image.Gray, m meeting) (corner, bool) {
	f, ok := newCornerFit(g, m)
	if !ok {
		return corner{}, false
	}
	for step := range cornerSteps {
		du, dv, ok := f.improve(step > 0)
		if !ok {
			return corner{}, false
		}
		if math.Abs(du)+math.Abs(dv) < 5e-3 && step > 1 {
			break
		}
	}
	return f.judge()
}

// cornerFit is the state of one measurement.
type cornerFit struct {
	g      *image.Gray
	m      meeting
	at     frame.Spot[frame.Image]
	ni, nj frame.Spot[frame.Image] // unit normals: distance from the edge along j, along i
	reach  float64
	half   float64    // half the width over which an edge changes, px
	field  [4]float64 // mean, part changing with i, with j, with both
	scale  float64    // robust residual, levels
	vv     float64    // variance of the shift by the fit
}

func newCornerFit(g *image.Gray, m meeting) (*cornerFit, bool) {
	li, lj := m.i.Norm(), m.j.Norm()
	cross := m.i.X*m.j.Y - m.i.Y*m.j.X
	if !(math.Abs(cross) > 0.3*li*lj) {
		return nil, false
	}
	s := math.Copysign(1, cross)
	f := &cornerFit{g: g, m: m, at: m.at, half: edgeHalf}
	// Distance from the line through j, positive towards +i; and the other.
	f.ni = frame.Spot[frame.Image]{X: s * m.j.Y / lj, Y: -s * m.j.X / lj}
	f.nj = frame.Spot[frame.Image]{X: -s * m.i.Y / li, Y: s * m.i.X / li}
	f.reach = math.Max(windowLeast, math.Min(windowMost, windowShare*math.Min(li, lj)))
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
// model (a man's rim, a speck) count little.
func (f *cornerFit) improve(robust bool) (du, dv float64, ok bool) {
	x0, x1 := int(math.Ceil(f.at.X-f.reach)), int(f.at.X+f.reach)
	y0, y1 := int(math.Ceil(f.at.Y-f.reach)), int(f.at.Y+f.reach)
	if x0 < 0 || y0 < 0 || x1 >= f.g.Rect.Dx() || y1 >= f.g.Rect.Dy() {
		return 0, 0, false
	}
	var q quads
	var sum, weight, count float64
	limit := 1 / math.Pow(math.Max(3, 2.5*f.scale), 2)
	for y := y0; y <= y1; y++ {
		row := f.g.Pix[y*f.g.Stride:]
		for x := x0; x <= x1; x++ {
			px, py := float64(x)-f.at.X, float64(y)-f.at.Y
			ti, tj := px*f.ni.X+py*f.ni.Y, px*f.nj.X+py*f.nj.Y
			ei, di := soft(ti, f.half)
			ej, dj := soft(tj, f.half)
			a := di * (f.field[1] + f.field[3]*ej) // brightness gained a px towards +i
			b := dj * (f.field[2] + f.field[3]*ei)
			r := float64(row[x]) - f.field[0] - f.field[1]*ei - f.field[2]*ej - f.field[3]*ei*ej
			w := 1.0
			if robust {
				w = 1 / (1 + r*r*limit)
				w *= w
			}
			sum, weight, count = sum+w*r*r, weight+w, count+1
			q.add([unknowns]float64{1, ei, ej, ei * ej, -(a*ti + b*tj) / f.half,
				a * (py*f.ni.X - px*f.ni.Y), b * (py*f.nj.X - px*f.nj.Y),
				-a*f.ni.X - b*f.nj.X, -a*f.ni.Y - b*f.nj.Y}, r, w)
		}
	}
	return f.take(&q, robust, sum/weight, weight/count)
}

// take applies the solution of the normal equations.
func (f *cornerFit) take(q *quads, robust bool, variance, kept float64) (du, dv float64, ok bool) {
	if !robust { // the first pass knows no fields yet, so nothing else
		q.hold(4, unknowns)
	} else if f.m.exact {
		q.hold(5, 7)
	}
	x, vv, ok := q.solve()
	if !ok || kept < 0.3 {
		return 0, 0, false
	}
	for i := range f.field {
		f.field[i] += x[i]
	}
	du, dv = clip(x[7], 1.5), clip(x[8], 1.5)
	f.half = math.Max(0.7, math.Min(5, f.half+clip(x[4], 0.4)))
	f.ni, f.nj = turnedBy(f.ni, clip(x[5], 0.1)), turnedBy(f.nj, clip(x[6], 0.1))
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

// hold keeps the unknowns lo to hi − 1 where they are.
func (q *quads) hold(lo, hi int) {
	for i := lo; i < hi; i++ {
		q.n[i], q.g[i] = [unknowns]float64{}, 0
		q.n[i][i] = 1
		for k := i + 1; k < unknowns; k++ {
			q.n[k][i] = 0
		}
	}
}

func (q *quads) add(a [unknowns]float64, r, w float64) {
	for i, ai := range a {
		q.g[i] += w * ai * r
		for j := 0; j <= i; j++ {
			q.n[i][j] += w * ai * a[j]
		}
	}
}

// solve returns the solution and the larger variance factor of the shifts, by
// Cholesky's method on the lower triangle.
func (q *quads) solve() (x [unknowns]float64, vv float64, ok bool) {
	l := &q.n
	for i := range unknowns {
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
	for i := range unknowns {
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	for i := unknowns - 1; i >= 0; i-- {
		for k := i + 1; k < unknowns; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	// The shifts come last: their covariance is the inverse of the last block.
	const u, v = unknowns - 2, unknowns - 1
	vv = 1 / (l[v][v] * l[v][v])
	uu := (1 + l[v][u]*l[v][u]*vv) / (l[u][u] * l[u][u])
	return x, math.Max(uu, vv), true
}

const (
	// leastContrast of a corner, levels: below it noise and grain rule.
	leastContrast = 3.0
	// A chequer's four fields alternate: the part that changes with both
	// directions exceeds those that change with one, unless a shadow's edge or
	// a man cuts in; and explains the pixels.
	mostOneSided = 0.8
	mostResidual = 0.6
	// wander is how far, as a share of a step, a corner may lie from where it
	// was expected.
	wander = 0.18
)

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
