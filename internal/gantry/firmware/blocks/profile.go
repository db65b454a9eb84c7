// SPDX-License-Identifier: Apache-2.0

package blocks

import "math"

// phase is a stretch of constant acceleration.
type phase struct {
	accel float64 // mm/s²
	time  float64 // s
}

// run is what is left of a block: the distance to go, the speed now, the speed
// wanted on the way and at the end, and the acceleration. mm, s.
type run struct{ left, now, nominal, exit, accel float64 }

// phases are how a run is driven: faster (or slower) to its peak, steadily,
// slower to the end. A run too short to brake in brakes harder.
func (r run) phases() [3]phase {
	if r.now > r.nominal {
		return r.slowed()
	}
	peak2 := (r.now*r.now+r.exit*r.exit)/2 + r.accel*r.left
	peak := math.Min(r.nominal, math.Sqrt(peak2))
	if peak < r.now || peak < r.exit {
		return r.forced()
	}
	up := phase{r.accel, (peak - r.now) / r.accel}
	down := phase{-r.accel, (peak - r.exit) / r.accel}
	steady := r.left - (peak*peak-r.now*r.now)/(2*r.accel) - (peak*peak-r.exit*r.exit)/(2*r.accel)
	return [3]phase{up, {0, math.Max(0, steady) / math.Max(peak, tiny)}, down}
}

// slowed is a run that is faster than it may be: it brakes to what it may first.
func (r run) slowed() [3]phase {
	brake := (r.now*r.now - r.nominal*r.nominal) / (2 * r.accel)
	exit := math.Min(r.exit, r.nominal)
	down := (r.nominal*r.nominal - exit*exit) / (2 * r.accel)
	if brake+down >= r.left {
		r.exit = math.Max(exit, math.Sqrt(math.Max(0, r.now*r.now-2*r.accel*r.left)))
		return r.forced()
	}
	return [3]phase{{-r.accel, (r.now - r.nominal) / r.accel},
		{0, (r.left - brake - down) / math.Max(r.nominal, tiny)}, {-r.accel, (r.nominal - exit) / r.accel}}
}

// forced is a run that changes its speed evenly over all that is left.
func (r run) forced() [3]phase {
	a := (r.exit*r.exit - r.now*r.now) / (2 * math.Max(r.left, tiny))
	return [3]phase{{a, 2 * r.left / math.Max(r.now+r.exit, tiny)}}
}

// duration of a run, s.
func (r run) duration() float64 {
	t := 0.0
	for _, p := range r.phases() {
		t += p.time
	}
	return t
}

// after is how far and how fast a run is after t seconds.
func (r run) after(t float64) (way, speed float64) {
	speed = r.now
	for _, p := range r.phases() {
		d := math.Min(t, p.time)
		way += speed*d + p.accel*d*d/2
		speed += p.accel * d
		t -= d
	}
	return math.Min(way, r.left), math.Max(0, speed)
}

// brakes says whether a run does nothing but slow down to its end.
func (r run) brakes() bool {
	for _, p := range r.phases() {
		if p.accel >= 0 && p.time > soon {
			return false
		}
	}
	return true
}
