// SPDX-License-Identifier: Apache-2.0

package lanes

import "math"

// Path is a way for the moving centre.
type Path struct {
	Points []Spot // polyline, start and end included
	Length float64
	Spare  float64 // least distance beyond an obstacle's Keep; negative where it began or ends closer
	Bend   float64 // sum of all turning, radians
	Rim    float64 // length outside Field.Calm
	Yields []int   // obstacles that must yield first (indices into Field.Obstacles)
}

// drawn is how far outside its arc a polyline may run: an arc is replaced by
// straight pieces that touch it from outside, so that none comes closer to the
// obstacle than the arc did. 10 µm is a tenth of a good placement.
const drawn = 10e-6

// pathOf turns arrivals into a polyline.
func (g *graph) pathOf(as []arrival) Path {
	pts := []Spot{g.cs[len(g.cs)-2].c}
	for i, a := range as {
		if i > 0 && a.swept > angleNoise {
			pts = g.round(pts, &g.chords[as[i-1].chord], a.swept)
		}
	}
	w := Path{Points: append(pts, g.cs[len(g.cs)-1].c)}
	through := as[len(as)-1].through
	for i, b := range g.bit {
		if b&through != 0 {
			w.Yields = append(w.Yields, i)
		}
	}
	return w
}

// round appends the corners of the polyline that follows the ring for the
// given sweep after chord c.
func (g *graph) round(pts []Spot, c *chord, sweep float64) []Spot {
	o := g.cs[c.to/2]
	if o.r < drawn {
		return append(pts, o.c)
	}
	step := 2 * math.Acos(o.r/(o.r+drawn))
	n := math.Ceil(sweep / step)
	step = sweep / n
	r, s := o.r/math.Cos(step/2), 1.0
	if c.to&1 == 1 {
		s = -1
	}
	for k := range int(n) {
		sin, cos := math.Sincos(c.in + s*step*(float64(k)+0.5))
		pts = append(pts, Spot{X: o.c.X + r*cos, Y: o.c.Y + r*sin})
	}
	return pts
}

// Measure fills in length, turning and spare for a polyline among obstacles.
func (f Field) Measure(points []Spot) Path {
	w := Path{Points: points, Spare: math.Inf(1)}
	for i := 1; i < len(points); i++ {
		s := segment{points[i-1], points[i]}
		l := s.a.Distance(s.b)
		w.Length += l
		if !f.Favoured.Holds(Spot{X: (s.a.X + s.b.X) / 2, Y: (s.a.Y + s.b.Y) / 2}) {
			w.Rim += l
		}
		for _, h := range f.Obstacles {
			w.Spare = math.Min(w.Spare, s.distance(h.At)-h.Keep)
		}
		if i > 1 {
			w.Bend += corner(points[i-2], points[i-1], points[i])
		}
	}
	return w
}

// corner is the angle by which the way turns at b, radians, not negative.
func corner(a, b, c Spot) float64 {
	u, v := b.Sub(a), c.Sub(b)
	return math.Abs(math.Atan2(u.X*v.Y-u.Y*v.X, u.Dot(v)))
}
