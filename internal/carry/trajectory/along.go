// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
)

// drive is what bounds the carriage's motion.
type drive plan.Drive

// Over is what a whole path is driven with: the speed of its quickest section
// at most, and one acceleration and jerk that all its sections allow.
func Over(path []frame.Spot[frame.Board], d plan.Drive) plan.Bounds {
	return plan.Bounds(drive(d).over(path))
}

// Hop is a time from rest to rest, seconds, that no way from a to b beats, when
// the magnet has nearer metres less to run or, below zero, more.
func Hop(a, b frame.Spot[frame.Board], d plan.Drive, nearer float64) float64 {
	return drive(d).hop(a, b, nearer)
}

// HopAlong is the least time of a way of at least that length from rest to
// rest: the quickest S-curve over it, seconds.
func HopAlong(length float64, p plan.Bounds) float64 { return bounds(p).hop(length) }

// along is what a straight section allows: an axis that moves by the share c of
// the way lets it run 1/c times as fast as itself, with 1/c times the
// acceleration and jerk. Exact, plane geometry.
func (d drive) along(head float64) bounds {
	p := bounds(d.Most)
	sin, cos := math.Sincos(head)
	for i, c := range [2]float64{math.Abs(cos), math.Abs(sin)} {
		if a := d.Axes[i]; c > 1e-9 {
			p = bounds{math.Min(p.Speed, a.Speed/c), math.Min(p.Accel, a.Accel/c), math.Min(p.Jerk, a.Jerk/c)}
		}
	}
	return p
}

// over is Over.
func (d drive) over(path []spot) bounds {
	path = tidy(path)
	p := bounds{0, math.Inf(1), math.Inf(1)}
	for i := 1; i < len(path); i++ {
		s := d.along(heading(path[i-1], path[i]))
		p = bounds{math.Max(p.Speed, s.Speed), math.Min(p.Accel, s.Accel), math.Min(p.Jerk, s.Jerk)}
	}
	if len(path) < 2 {
		return bounds(d.Most)
	}
	return p
}

// across is the acceleration towards the middle of an arc: it turns through
// all directions, so no more than either axis has.
func (d drive) across() float64 {
	return math.Min(d.Most.Accel, math.Min(d.Axes[0].Accel, d.Axes[1].Accel))
}

// hop is Hop: no axis can be quicker over its part of the way, and nothing is
// quicker than the straight way at what is allowed in any direction.
func (d drive) hop(a, b spot, nearer float64) float64 {
	t := bounds(d.Most).hop(a.Distance(b) - nearer)
	for i, part := range [2]float64{math.Abs(a.X - b.X), math.Abs(a.Y - b.Y)} {
		t = math.Max(t, bounds(d.Axes[i]).hop(part-math.Max(0, nearer)))
	}
	return t
}

// hop is the least time of a way of at least that length from rest to rest:
// the quickest S-curve over it, seconds. A longer way, a bend or a halt only
// takes longer.
func (p bounds) hop(length float64) float64 {
	if length < 1e-9 {
		return 0
	}
	return p.profile(0, length, 0, 0, p.Speed).time()
}
