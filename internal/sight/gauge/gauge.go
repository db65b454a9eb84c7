// SPDX-License-Identifier: Apache-2.0

// Package gauge measures where one piece stands on a board that is bare but for it, as
// finely as pictures tell. Its base is the one part of a piece whose shape is known: a
// circle of a measured diameter. Its edge towards the camera's foot point is never
// hidden, and a picture of the bare board takes the pattern of the squares away.
package gauge

import (
	"errors"
	"image"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Spot is a place on the board, metres.
type Spot = frame.Spot[frame.Board]

// Gauge measures in pictures of one view.
type Gauge struct {
	view  optics.View // where places on the board as it truly lies are seen
	bare  *image.Gray
	eye   Spot    // the camera's foot point
	rise  float64 // by how much farther from it the edge of a base seems to be, as a share
	Base  float64
	Fixed bool // Base is that of the edge as seen, not that of the piece as measured
}

// Sighting is a place as a picture shows it.
type Sighting struct {
	At    Spot    // centre of the base, metres
	Sigma float64 // standard deviation of each coordinate by the scatter of the edge, metres
	Base  float64 // diameter that the edge has, metres; as told where it is fixed
	Edge  float64 // by how much darker or lighter the piece is than the bare board there, as a share
}

// ErrNotSeen says that no edge of a base is there.
var ErrNotSeen = errors.New("the piece is not where it should be: look whether it stands on the board, and clear everything else away")

// New prepares a gauge for a view, a picture of the bare board in that view, where the
// camera is, and the diameter of the piece's base in metres. The view is one fitted to the
// board with its lens left open: what lens and pose take in of a board's warp, pieces that
// stand on it share. The camera's own place may be known better than by that.
func New(view optics.View, bare *image.Gray, camera frame.Point[frame.Board], base float64) *Gauge {
	return &Gauge{view: view, bare: bare, eye: camera.Spot(), rise: edgeHeight / (camera.Z - edgeHeight), Base: base}
}

// Measure finds the piece that stands within reach of a place, metres. ErrNotSeen where
// none does.
func (g *Gauge) Measure(img *image.Gray, near Spot, reach float64) (Sighting, error) {
	at, edge := g.search(img, near, reach, coarse)
	if math.Abs(edge) < leastEdge {
		return Sighting{}, ErrNotSeen
	}
	at, edge = g.search(img, at, coarse, coarse/4)
	s := Sighting{At: at, Base: g.Base, Edge: edge}
	for width := 3 * coarse / 2; width > finest; width *= 0.7 {
		var err error
		if s, err = g.refine(img, s, width); err != nil {
			return s, err
		}
	}
	return s, nil
}

// search tries a grid of centres and returns the one with the strongest edge.
func (g *Gauge) search(img *image.Gray, near Spot, reach, step float64) (best Spot, top float64) {
	for dy := -reach; dy <= reach+1e-9; dy += step {
		for dx := -reach; dx <= reach+1e-9; dx += step {
			at := near.Add(Spot{X: dx, Y: dy})
			if e := g.edge(img, at); math.Abs(e) > math.Abs(top) {
				best, top = at, e
			}
		}
	}
	return best, top
}

// edge is by how much the share of light changes across the circle's near half on average.
func (g *Gauge) edge(img *image.Gray, at Spot) float64 {
	sum, n := 0.0, 0
	for _, d := range g.near(at, 24) {
		in, ok1 := g.share(img, at.Add(d.Scale(g.Base/2-coarse/2)))
		out, ok2 := g.share(img, at.Add(d.Scale(g.Base/2+coarse/2)))
		if !ok1 || !ok2 {
			return 0
		}
		sum, n = sum+in-out, n+1
	}
	return sum / float64(max(n, 1))
}

// near lists directions to the edge of the base that nothing of the piece can hide: away
// from where it leans in the picture.
func (g *Gauge) near(at Spot, n int) []Spot {
	lean := at.Sub(g.eye)
	most := 1.0
	if r := lean.Norm(); r > 0 {
		lean, most = lean.Scale(1/r), nearHalf
	}
	var out []Spot
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		if d := (Spot{X: cos, Y: sin}); d.Dot(lean) <= most {
			out = append(out, d)
		}
	}
	return out
}

// share is the light at a place on the edge's height over that of the bare board.
func (g *Gauge) share(img *image.Gray, at Spot) (float64, bool) {
	px, ok := g.view.Project(at.Add(at.Sub(g.eye).Scale(g.rise)).At(0))
	if !ok {
		return 0, false
	}
	now, ok1 := sample(img, px)
	was, ok2 := sample(g.bare, px)
	return (now + pixels.Black) / (was + pixels.Black), ok1 && ok2 // dark squares divide by something
}

// sample interpolates between four pixels.
func sample(img *image.Gray, px frame.Spot[frame.Image]) (float64, bool) {
	x, y := math.Floor(px.X), math.Floor(px.Y)
	i, j := int(x), int(y)
	b := img.Bounds()
	if i < 0 || j < 0 || i+1 >= b.Dx() || j+1 >= b.Dy() {
		return 0, false
	}
	fx, fy := px.X-x, px.Y-y
	p := img.Pix[j*img.Stride+i:]
	q := p[img.Stride:]
	return (1-fy)*((1-fx)*float64(p[0])+fx*float64(p[1])) + fy*((1-fx)*float64(q[0])+fx*float64(q[1])), true
}

// refine fits centre, and diameter unless it is fixed, to the edge within a width of
// where it was thought to be.
func (g *Gauge) refine(img *image.Gray, s Sighting, width float64) (Sighting, error) {
	var rows [][3]float64
	var off []float64
	for _, d := range g.near(s.At, directions) {
		if v, ok := g.cross(img, s, d, width); ok {
			rows, off = append(rows, [3]float64{d.X, d.Y, 1}), append(off, v)
		}
	}
	if len(rows) < leastPoints {
		return s, ErrNotSeen
	}
	n := 3
	if g.Fixed {
		n = 2
	}
	x, sigma, err := fit(rows, off, n)
	if err != nil {
		return s, ErrNotSeen
	}
	s.At, s.Sigma = s.At.Add(Spot{X: x[0], Y: x[1]}), sigma
	if !g.Fixed {
		s.Base += 2 * x[2]
	}
	return s, nil
}

// cross is how far beyond the circle the edge lies in a direction, metres; false where
// there is no clean step from the piece to the board, as where a shadow's rim leaves the base.
func (g *Gauge) cross(img *image.Gray, s Sighting, d Spot, width float64) (float64, bool) {
	half := int(width/fineStep) + 2*close + 1
	v := make([]float64, 2*half+1)
	sign := math.Copysign(1, -s.Edge)
	for i := range v {
		share, ok := g.share(img, s.At.Add(d.Scale(s.Base/2+float64(i-half)*fineStep)))
		if !ok {
			return 0, false
		}
		v[i] = sign * share
	}
	slope := func(i int) float64 { return v[i+reachOfSlope] - v[i-reachOfSlope] }
	best, top := 0, 0.0
	for i := 2 * close; i < len(v)-2*close; i++ {
		if e := slope(i); e > top {
			best, top = i, e
		}
	}
	if top < leastEdge || !isStep(v, best) {
		return 0, false
	}
	a, b := slope(best-1), slope(best+1)
	shift := 0.0
	if bend := 2*top - a - b; bend > 0 {
		shift = max(-1, min(1, (b-a)/(2*bend)))
	}
	return (float64(best-half) + shift) * fineStep, true
}

// isStep says whether there is one level on each side of a place.
func isStep(v []float64, i int) bool {
	in, out := v[i-close], v[i+close]
	uneven := max(math.Abs(v[i-2*close]-in), math.Abs(v[i+2*close]-out))
	return uneven < mostUneven*(out-in)
}

// fit solves rows·x = off for the first n columns by least squares with weights against
// outliers, and says how sure each of the first two is.
func fit(rows [][3]float64, off []float64, n int) (x [3]float64, sigma float64, err error) {
	scale := math.Inf(1)
	for pass := range passes {
		m, g := linear.NewSymmetric(n), make([]float64, n)
		for k, r := range rows {
			left := off[k] - r[0]*x[0] - r[1]*x[1] - r[2]*x[2]
			w := linear.Huber(math.Abs(left)/scale, linear.HuberLimit)
			if pass > passes/2 {
				w = linear.Biweight(math.Abs(left)/scale, biweight)
			}
			for i := range n {
				g[i] += w * r[i] * off[k]
				for j := range n {
					m.Row(i)[j] += w * r[i] * r[j]
				}
			}
		}
		root, err := m.Factor()
		if err != nil {
			return x, 0, err
		}
		root.Solve(g)
		copy(x[:], g)
		var all []float64
		sum := 0.0
		for k, r := range rows {
			left := math.Abs(off[k] - r[0]*x[0] - r[1]*x[1] - r[2]*x[2])
			all, sum = append(all, left), sum+left*left
		}
		scale = max(1.4826*numeric.Median(all), 1e-6)
		sigma = scale * math.Sqrt(2/float64(len(rows)))
	}
	return x, sigma, nil
}
