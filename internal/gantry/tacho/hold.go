// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"math"

	"boardhand/internal/carry/plan"
)

// Hold brings the stroke under way to rest on its way, with no more acceleration and jerk
// than it has, and keeps it there until Resume; one that begins meanwhile stands at
// its start. Halt and Home end it.
func (g *Gantry) Hold() error { g.isHeld.Store(true); return nil }

// Resume lets a held stroke go on.
func (g *Gantry) Resume() error { g.isHeld.Store(false); return nil }

// At is where the axes were read last.
func (g *Gantry) At() spot { return g.here() }

// pace is how fast the time of a motion passes: 1 as planned, 0 while it is held.
type pace struct {
	rate  float64
	slope float64 // by which the rate changes, 1/s
}

// newPace begins a motion, standing if it is held.
func newPace(isHeld bool) *pace {
	if isHeld {
		return &pace{}
	}
	return &pace{rate: 1}
}

// scale is a speed as planned at this pace.
func (p *pace) scale(speed [2]float64) [2]float64 {
	return [2]float64{p.rate * speed[0], p.rate * speed[1]}
}

// drift is a motion at one moment along its way.
type drift struct {
	speed, accel float64 // m/s, m/s²
	most, jerk   float64 // acceleration and jerk allowed, m/s², m/s³
}

// step lets dt seconds pass and returns how much of the motion's time that was. A rate
// r makes the speed r·v and the acceleration r²·a + r'·v along the way: r' takes what a
// leaves of the limit, changes as the jerk allows, and vanishes where r ends.
func (p *pace) step(dt float64, isHeld bool, d drift) float64 {
	goal, left := 1.0, d.most-p.rate*p.rate*d.accel
	if isHeld {
		goal, left = 0, d.most+p.rate*p.rate*d.accel
	}
	way := goal - p.rate
	v := math.Max(d.speed, slowest)
	bend := math.Max(d.jerk/v, 1)
	want := math.Min(math.Max(left, 0)/v, math.Sqrt(2*bend*math.Abs(way)))
	want = math.Copysign(want, way)
	p.slope += math.Max(-bend*dt, math.Min(bend*dt, want-p.slope))
	was := p.rate
	p.rate = math.Max(0, math.Min(1, p.rate+p.slope*dt))
	if p.rate == goal || (goal-p.rate)*way < 0 {
		p.rate, p.slope = goal, 0
	}
	return (was + p.rate) / 2 * dt
}

// driftAt is the motion from sample k on.
func driftAt(samples []plan.Sample, k int, within plan.Bounds) drift {
	d := drift{most: within.Accel, jerk: within.Jerk}
	a, b := samples[k], samples[k+1]
	d.speed = (b.Along - a.Along) / (b.Time - a.Time)
	if k+2 < len(samples) {
		c := samples[k+2]
		d.accel = ((c.Along-b.Along)/(c.Time-b.Time) - d.speed) / (b.Time - a.Time)
	}
	return d
}
