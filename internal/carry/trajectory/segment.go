// SPDX-License-Identifier: Apache-2.0

package trajectory

import "math"

// segment is a straight piece or an arc of a track.
type segment struct {
	from   spot
	head   float64 // direction at from, radians
	length float64
	radius float64 // of an arc, metres; 0: straight
	side   float64 // +1: the arc turns left, −1: right
}

// at is the place s metres along.
func (b segment) at(s float64) spot {
	if b.radius == 0 {
		return ahead(b.from, b.head, s)
	}
	c := ahead(b.from, b.head+b.side*math.Pi/2, b.radius)
	return ahead(c, b.head+b.side*(s/b.radius-math.Pi/2), b.radius)
}

// sharp is the turn, radians, from which the carriage stops at a corner: a
// reversal, not a bend.
const sharp = 0.9 * math.Pi

// tracks are the pieces of a polyline with its corners rounded, one list for
// each section between two stops. The arc at a corner touches both legs, at
// most half of each, and leaves the corner by at most blend: with tangents of
// length t and a turn θ it leaves it by t·tan(θ/4) and has the radius
// t/tan(θ/2) (plane geometry).
func segmented(path []spot, blend float64) [][]segment {
	path = tidy(path)
	var out [][]segment
	var now []segment
	cut := 0.0 // of the leg that begins, by the arc before it
	for i := 1; i < len(path); i++ {
		leg := path[i-1].Distance(path[i])
		head := heading(path[i-1], path[i])
		t, turn := 0.0, 0.0
		if i+1 < len(path) {
			turn = math.Remainder(heading(path[i], path[i+1])-head, 2*math.Pi)
			t = tangentAt(turn, math.Min(leg, path[i].Distance(path[i+1])), blend)
		}
		if l := leg - cut - t; l > 1e-12 {
			now = append(now, segment{from: ahead(path[i-1], head, cut), head: head, length: l})
		}
		if cut = t; t > 0 {
			r := t / math.Tan(math.Abs(turn)/2)
			now = append(now, segment{from: ahead(path[i], head, -t), head: head, length: r * math.Abs(turn), radius: r, side: math.Copysign(1, turn)})
		}
		if math.Abs(turn) >= sharp || i+1 == len(path) {
			out, now = append(out, now), nil
		}
	}
	return out
}

// tangentAt is how much of both legs the arc at a corner takes; 0: none.
func tangentAt(turn, leg, blend float64) float64 {
	turn = math.Abs(turn)
	if turn < 1e-9 || turn >= sharp {
		return 0
	}
	return math.Min(leg/2, blend/math.Tan(turn/4))
}

// section is a part of a track with one top speed.
type section struct {
	end float64 // m from the track's start
	top float64 // m/s
}

const (
	// alike are speeds of arcs so near to each other, as a share, that the
	// slower one holds for both: less than a hundredth of a carry's time.
	alike = 0.03
	// breath is the shortest straight piece between two arcs on which it is
	// worth gaining speed, metres: over 2 mm at 4 m/s³ it is 8 mm/s.
	breath = 2e-3
)

// sections are the top speeds along a track: what each direction allows, and
// on an arc v² = acceleration across·radius at most (centripetal acceleration,
// textbook).
func (d drive) sections(segments []segment) []section {
	var out []section
	s := 0.0
	for i, b := range segments {
		s += b.length
		top := d.top(b)
		if b.radius == 0 && i > 0 && i+1 < len(segments) && b.length < breath && segments[i-1].radius > 0 && segments[i+1].radius > 0 {
			top = math.Min(top, math.Max(d.top(segments[i-1]), d.top(segments[i+1])))
		}
		if n := len(out); n > 0 && math.Abs(out[n-1].top-top) <= alike*top {
			out[n-1] = section{s, math.Min(out[n-1].top, top)}
			continue
		}
		out = append(out, section{s, top})
	}
	return out
}

// top is the most speed on one segment.
func (d drive) top(b segment) float64 {
	v := d.along(b.head).Speed
	if b.radius == 0 {
		return v
	}
	end := b.head + b.side*b.length/b.radius
	v = math.Min(v, d.along(end).Speed)
	const quarter = math.Pi / 2
	if n := math.Ceil(math.Min(b.head, end) / quarter); n*quarter < math.Max(b.head, end) { // it turns through an axis' own direction
		v = math.Min(v, d.along(n*quarter).Speed)
	}
	return math.Min(v, math.Sqrt(d.across()*b.radius))
}
