// SPDX-License-Identifier: Apache-2.0

package lanes

import "math"

// circle is a grown obstacle, or the start or end of a way (r = 0).
type circle struct {
	c      Spot
	r      float64
	yields bool
}

// segment is a straight piece from a to b.
type segment struct{ a, b Spot }

// distance is from c to the nearest place of the segment.
func (s segment) distance(c Spot) float64 {
	return math.Sqrt(s.distance2(c))
}

func (s segment) distance2(c Spot) float64 {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	px, py := c.X-s.a.X, c.Y-s.a.Y
	t := px*dx + py*dy
	if t > 0 {
		l := dx*dx + dy*dy
		if t >= l {
			px, py = c.X-s.b.X, c.Y-s.b.Y
		} else {
			t /= l
			px, py = px-t*dx, py-t*dy
		}
	}
	return px*px + py*py
}

// tangent returns the straight piece that leaves circle p turning the way sp
// (+1: circle on the left, counter-clockwise; −1: on the right) and joins
// circle q turning the way sq. There is none when one circle holds the other,
// or when a crossing tangent would be needed between overlapping circles.
//
// With unit direction u and left normal n the touching points are
// p.c − sp·p.r·n and q.c − sq·q.r·n, so D = q.c − p.c has D·n = sq·q.r − sp·p.r.
func tangent(p, q circle, sp, sq float64) (segment, bool) {
	dx, dy := q.c.X-p.c.X, q.c.Y-p.c.Y
	d2 := dx*dx + dy*dy
	k := sq*q.r - sp*p.r
	l2 := d2 - k*k
	if l2 <= 0 || d2 == 0 {
		return segment{}, false
	}
	l := math.Sqrt(l2)
	ux, uy := (l*dx+k*dy)/d2, (l*dy-k*dx)/d2
	return segment{
		Spot{X: p.c.X + sp*p.r*uy, Y: p.c.Y - sp*p.r*ux},
		Spot{X: q.c.X + sq*q.r*uy, Y: q.c.Y - sq*q.r*ux},
	}, true
}

// span is a stretch of a circle that lies inside another one or outside the
// field: half angles either side of mid, radians.
type span struct {
	mid, half float64
	by        int // index of the circle, or −1 for the field's border
}

// turn brings an angle into [0, 2π).
func turn(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// spansOf lists the stretches of circle i where the moving centre may not be.
// The second result is false when no part of the circle is free.
func spansOf(cs []circle, i int, in Rect) ([]span, bool) {
	c := cs[i]
	var out []span
	for j, o := range cs {
		if j == i || o.r == 0 {
			continue
		}
		s, whole := overlap(c, o)
		if whole && !o.yields {
			return nil, false
		}
		if s.half > 0 {
			s.by = j
			out = append(out, s)
		}
	}
	return borderSpans(c, in, out)
}

// overlap is the stretch of circle c inside circle o; whole when all of it is.
func overlap(c, o circle) (s span, whole bool) {
	d := c.c.Distance(o.c)
	if d >= c.r+o.r || c.r >= d+o.r {
		return span{}, false
	}
	if o.r >= d+c.r {
		return span{0, math.Pi, 0}, true
	}
	half := math.Acos((d*d + c.r*c.r - o.r*o.r) / (2 * d * c.r))
	return span{math.Atan2(o.c.Y-c.c.Y, o.c.X-c.c.X), half, 0}, false
}

// borderSpans adds the stretches of c outside the rectangle.
func borderSpans(c circle, in Rect, out []span) ([]span, bool) {
	sides := [4]struct{ mid, room float64 }{
		{0, in.Max.X - c.c.X}, {math.Pi / 2, in.Max.Y - c.c.Y},
		{math.Pi, c.c.X - in.Min.X}, {-math.Pi / 2, c.c.Y - in.Min.Y},
	}
	for _, s := range sides {
		if s.room >= c.r {
			continue
		}
		if s.room <= -c.r {
			return nil, false
		}
		out = append(out, span{s.mid, math.Acos(s.room / c.r), -1})
	}
	return out, true
}
