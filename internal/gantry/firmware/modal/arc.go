// SPDX-License-Identifier: Apache-2.0

package modal

import (
	"math"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/words"
)

// axes of a plane: the two of the circle and the one along its axis.
func (s *State) axes() (a, b, c int) {
	switch s.Plane {
	case 180:
		return 2, 0, 1
	case 190:
		return 1, 2, 0
	}
	return 0, 1, 2
}

// arc does G2 and G3 as chords that leave the circle by the tolerance at most.
func (s *State) arc(l words.Line, to blocks.Vector, out []Command) ([]Command, error) {
	a, b, c := s.axes()
	x, y, err := s.centre(l, to)
	if err != nil {
		return nil, err
	}
	radius := math.Hypot(x, y) // from the centre to the start: (−x, −y)
	ex, ey := to[a]-s.At[a]-x, to[b]-s.At[b]-y
	if off := math.Abs(math.Hypot(ex, ey) - radius); off > arcMiss && off > arcShare*radius {
		return nil, words.BadTarget
	}
	turn := math.Atan2(-x*ey+y*ex, -x*ex-y*ey)
	if s.Motion == 20 && turn >= -tinyTurn {
		turn -= 2 * math.Pi
	} else if s.Motion == 30 && turn <= tinyTurn {
		turn += 2 * math.Pi
	}
	tol := math.Min(s.Tolerance, radius)
	n := max(1, int(math.Abs(turn)*radius/2/math.Sqrt(tol*(2*radius-tol))))
	from, last := s.At, s.At
	for i := 1; i <= n; i++ {
		share := float64(i) / float64(n)
		sin, cos := math.Sincos(turn * share)
		p := from
		p[a], p[b] = from[a]+x-x*cos+y*sin, from[b]+y-x*sin-y*cos
		p[c] += share * (to[c] - from[c])
		if i == n {
			p = to
		}
		speed := s.Feed / 60
		if s.Inverse {
			speed = radius * math.Abs(turn) * s.Feed / 60
		}
		out, last = append(out, Command{To: p, Feed: blocks.Feed{Speed: speed}}), p
	}
	s.At = last
	return out, nil
}

// centre of an arc, seen from its start.
func (s *State) centre(l words.Line, to blocks.Vector) (x, y float64, err error) {
	a, b, _ := s.axes()
	if !l.Has(letters[a]) && !l.Has(letters[b]) {
		return 0, 0, words.NoArcAxes
	}
	if !l.Has('R') {
		first, second := "IJK"[a], "IJK"[b]
		if !l.Has(first) && !l.Has(second) {
			return 0, 0, words.NoArcOffsets
		}
		return l.Value[first] * s.scale(), l.Value[second] * s.scale(), nil
	}
	r := l.Value['R'] * s.scale()
	dx, dy := to[a]-s.At[a], to[b]-s.At[b]
	d := math.Hypot(dx, dy)
	if d == 0 {
		return 0, 0, words.BadTarget
	}
	h2 := r*r - d*d/4
	if h2 < 0 {
		return 0, 0, words.BadRadius
	}
	h := math.Sqrt(h2) / d
	if (s.Motion == 20) == (r > 0) { // the centre is on the right of a short way clockwise
		h = -h
	}
	return dx/2 - h*dy, dy/2 + h*dx, nil
}
