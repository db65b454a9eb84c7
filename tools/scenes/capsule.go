// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// capsule is a part of a person's body: a tapered rod with round ends, mm,
// board frame.
type capsule = bone

// minus is the difference of two vectors.
func (v vec) minus(w vec) vec { return vec{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }

// along is the point v + t·w.
func (v vec) along(w vec, t float64) vec {
	return vec{v[0] + t*w[0], v[1] + t*w[1], v[2] + t*w[2]}
}

// unit is the vector at length 1.
func (v vec) unit() vec { return vec{}.along(v, 1/math.Sqrt(v.dot(v))) }

// clamp keeps x between 0 and 1.
func clamp(x float64) float64 { return max(0, min(1, x)) }

// clearance is how far the line from p to q passes outside of the capsule, mm,
// negative inside, and at which share of the line that is.
func clearance(c capsule, p, q vec) (gap, at float64) {
	u, v, w := q.minus(p), c.b.minus(c.a), p.minus(c.a)
	uu, uv, vv, uw, vw := u.dot(u), u.dot(v), v.dot(v), u.dot(w), v.dot(w)
	s, t := 0.0, 0.0
	if n := uu*vv - uv*uv; n > 1e-9 {
		s = clamp((uv*vw - vv*uw) / n)
	}
	if vv > 0 {
		t = clamp((vw + s*uv) / vv)
	}
	s = clamp((t*uv - uw) / uu)
	if vv > 0 {
		t = clamp((vw + s*uv) / vv)
	}
	e := p.along(u, s).minus(c.a.along(v, t))
	return math.Sqrt(e.dot(e)) - (c.ra + (c.rb-c.ra)*t), s
}

// lampPoints is into how many points a lamp's disc is cut.
const lampPoints = 16

// points are points spread evenly over a lamp's disc, which faces the
// board's middle (a sunflower's pattern).
func (l lamp) points() [lampPoints]vec {
	n := l.at.unit()
	a := vec{-n[1], n[0], 0}.unit()
	b := vec{n[1]*a[2] - n[2]*a[1], n[2]*a[0] - n[0]*a[2], n[0]*a[1] - n[1]*a[0]}
	var out [lampPoints]vec
	for i := range out {
		r := l.size / 2 * math.Sqrt((float64(i)+0.5)/lampPoints)
		s, c := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		out[i] = l.at.along(a, r*c).along(b, r*s)
	}
	return out
}

// visible is the share of a lamp, cut into points, that is seen from p past
// people. Each point stands for a patch of the disc, so that the penumbra has
// no steps.
func (l lamp) visible(points *[lampPoints]vec, p vec, people []capsule) float64 {
	people = near(people, p, l.at, l.size/2)
	if len(people) == 0 {
		return 1
	}
	patch := l.size / math.Sqrt(lampPoints)
	sum := 0.0
	for _, q := range points {
		open := 1.0
		for i := range people {
			gap, at := clearance(people[i], p, q)
			open = min(open, clamp(0.5+gap/(patch*at+1)))
			if open == 0 {
				break
			}
		}
		sum += open
	}
	return sum / lampPoints
}

// near are the capsules that come into a cone from p to a lamp's disc, or close
// to it.
func near(people []capsule, p, lamp vec, radius float64) []capsule {
	var out []capsule
	for _, c := range people {
		if gap, at := clearance(c, p, lamp); gap < radius*(at+0.3)+2 {
			out = append(out, c)
		}
	}
	return out
}

// dimmed is the share of the fill that people leave to a point that faces up:
// the form factors of balls along each capsule.
func dimmed(p vec, people []capsule) float64 {
	lost := 0.0
	for _, c := range people {
		n := 1 + int(math.Sqrt(c.b.minus(c.a).dot(c.b.minus(c.a)))/(c.ra+c.rb))
		for i := range n {
			t := (float64(i) + 0.5) / float64(n)
			e := c.a.along(c.b.minus(c.a), t).minus(p)
			r := c.ra + (c.rb-c.ra)*t
			if d := math.Sqrt(e.dot(e)); e[2] > 0 && d > r {
				lost += r * r * e[2] / (d * d * d)
			}
		}
	}
	return 1 - math.Min(0.8, lost)
}
