// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"

	"boardhand/internal/carry/plan"
)

// bounds are the limits of motion along a path.
type bounds plan.Bounds

// ramp is a change of speed in which the acceleration grows, holds and fades,
// with the jerk at its limit or zero; it begins and ends without acceleration.
// Range: any two speeds from 0, limits above 0. Exact. Source: JPE, Third order
// point to point motion profile (the phases of one ramp).
type ramp struct {
	from, to float64 // m/s
	grow     float64 // time of growing, and of fading, s
	hold     float64 // s
	jerk     float64 // signed, m/s³
}

func (p bounds) ramp(from, to float64) ramp {
	r := ramp{from: from, to: to, jerk: math.Copysign(p.Jerk, to-from)}
	d := math.Abs(to - from)
	if d >= p.Accel*p.Accel/p.Jerk {
		r.grow = p.Accel / p.Jerk
		r.hold = d/p.Accel - r.grow
	} else {
		r.grow = math.Sqrt(d / p.Jerk)
	}
	return r
}

func (r ramp) time() float64 { return 2*r.grow + r.hold }

// length is the way: the ramp is point symmetric, so its mean speed is half way.
func (r ramp) length() float64 { return (r.from + r.to) / 2 * r.time() }

// at is the way and the speed t seconds into the ramp.
func (r ramp) at(t float64) (s, v float64) {
	if total := r.time(); t > total/2 { // the second half is the first one backwards
		back := ramp{from: r.to, to: r.from, grow: r.grow, hold: r.hold, jerk: -r.jerk}
		s, v = back.at(math.Max(0, total-t))
		return r.length() - s, v
	}
	if t <= r.grow {
		return t * (r.from + r.jerk*t*t/6), r.from + r.jerk*t*t/2
	}
	a, h := r.jerk*r.grow, t-r.grow
	v = r.from + a*r.grow/2
	s = r.grow * (r.from + a*r.grow/6)
	return s + h*(v+a*h/2), v + a*h
}

// speedAt is the speed after s metres of the ramp, by halving the time.
func (r ramp) speedAt(s float64) float64 {
	lo, hi := 0.0, r.time()
	for range 40 {
		mid := (lo + hi) / 2
		if at, _ := r.at(mid); at < s {
			lo = mid
		} else {
			hi = mid
		}
	}
	_, v := r.at(lo)
	return v
}

// profile is a section of a trajectory: up to a speed, on at it, and down to another.
type profile struct {
	start  float64 // m from the track's start
	up     ramp
	cruise float64 // s
	down   ramp
}

// profile is the quickest one over a length between two speeds, no faster than
// top. The length must suffice for the ramp between the two speeds.
func (p bounds) profile(start, length, from, to, top float64) profile {
	lo, hi := math.Max(from, to), math.Max(top, math.Max(from, to))
	need := func(v float64) float64 { return p.ramp(from, v).length() + p.ramp(v, to).length() }
	if need(hi) <= length {
		lo = hi
	}
	for range 40 {
		if mid := (lo + hi) / 2; need(mid) <= length {
			lo = mid
		} else {
			hi = mid
		}
	}
	h := profile{start: start, up: p.ramp(from, lo), down: p.ramp(lo, to)}
	if lo > 0 {
		h.cruise = math.Max(0, length-need(lo)) / lo
	}
	return h
}

func (h profile) time() float64 { return h.up.time() + h.cruise + h.down.time() }

// at is the way from the track's start and the speed t seconds into the profile.
func (h profile) at(t float64) (s, v float64) {
	up := h.up.time()
	if t < up {
		s, v = h.up.at(t)
		return h.start + s, v
	}
	if t -= up; t < h.cruise {
		return h.start + h.up.length() + t*h.up.to, h.up.to
	}
	s, v = h.down.at(math.Min(t-h.cruise, h.down.time()))
	return h.start + h.up.length() + h.cruise*h.up.to + s, v
}

// fastest is the most speed between two places, metres from the track's start.
func (h profile) fastest(a, b float64) float64 {
	top := h.start + h.up.length()
	if b < top {
		return h.up.speedAt(b - h.start)
	}
	if end := top + h.cruise*h.up.to; a > end {
		return h.down.speedAt(a - end)
	}
	return h.up.to
}
