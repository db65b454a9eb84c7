// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// State is where a move is at one moment, along its path.
type State struct{ Position, Speed, Acceleration float64 } // m, m/s, m/s²

// phase is a stretch of constant jerk.
type phase struct {
	start, end float64 // s
	at         State   // at its start
	jerk       float64
}

// Profile is a move from rest to rest along a straight or a path, in closed
// form: at most seven stretches of constant jerk.
type Profile struct {
	phases [7]phase
	count  int
	length float64
}

// Duration in seconds.
func (p Profile) Duration() float64 {
	if p.count == 0 {
		return 0
	}
	return p.phases[p.count-1].end
}

// after is the state dt seconds into the stretch.
func (f phase) after(dt float64) State {
	return State{
		Position:     f.at.Position + dt*(f.at.Speed+dt*(f.at.Acceleration/2+dt*f.jerk/6)),
		Speed:        f.at.Speed + dt*(f.at.Acceleration+dt*f.jerk/2),
		Acceleration: f.at.Acceleration + dt*f.jerk,
	}
}

// add appends a stretch that starts with acceleration a.
func (p *Profile) add(duration, a, jerk float64) {
	if !(duration > 0) {
		return
	}
	f := phase{end: duration, at: State{Acceleration: a}, jerk: jerk}
	if p.count > 0 {
		last := p.phases[p.count-1]
		s := last.after(last.end - last.start)
		f.start, f.end = last.end, last.end+duration
		f.at.Position, f.at.Speed = s.Position, s.Speed
	}
	p.phases[p.count] = f
	p.count++
}

func checkMove(length unit.Length, v unit.Speed, a unit.Acceleration) error {
	if !(length >= 0 && length <= mostLength) {
		return fmt.Errorf("length of a move must be 0–%g m; got %v", mostLength, length)
	}
	return firstOf(above("speed", float64(v), mostSpeed), above("acceleration", float64(a), mostAccel))
}

// Trapezoid is the move with limits on speed and acceleration: d ≥ v²/a takes
// d/v + v/a, a shorter one is a triangle of 2√(d/a). Range: d 0–1000 m, limits
// above 0. Exact. Source: textbook; Biagiotti and Melchiorri, Trajectory
// Planning for Automatic Machines and Robots (2008), ch. 3 (from memory).
func Trapezoid(length unit.Length, speed unit.Speed, accel unit.Acceleration) (Profile, error) {
	if err := checkMove(length, speed, accel); err != nil {
		return Profile{}, err
	}
	d, a := float64(length), float64(accel)
	p := Profile{length: d}
	if d == 0 {
		return p, nil
	}
	top := min(float64(speed), math.Sqrt(d*a))
	ramp := top / a
	p.add(ramp, a, 0)
	p.add(d/top-ramp, 0, 0)
	p.add(ramp, -a, 0)
	return p, nil
}

// Limits are the limits of an S-curve.
type Limits struct {
	Speed        unit.Speed
	Acceleration unit.Acceleration
	Jerk         unit.Jerk
}

// SCurve is the move of seven stretches with limits on speed, acceleration and
// jerk, from rest to rest. Range: d 0–1000 m, limits above 0. Exact. Source:
// JPE, Third order point to point motion profile (the phases).
func SCurve(length unit.Length, l Limits) (Profile, error) {
	err := firstOf(checkMove(length, l.Speed, l.Acceleration), above("jerk", float64(l.Jerk), mostJerk))
	if err != nil {
		return Profile{}, err
	}
	p := Profile{length: float64(length)}
	if length == 0 {
		return p, nil
	}
	tj, hold, cruise := p.sCurveTimes(l)
	j := float64(l.Jerk)
	a := j * tj
	p.add(tj, 0, j)
	p.add(hold, a, 0)
	p.add(tj, a, -j)
	p.add(cruise, 0, 0)
	p.add(tj, 0, -j)
	p.add(hold, -a, 0)
	p.add(tj, -a, j)
	return p, nil
}

// sCurveTimes are the times of growing, constant acceleration and of cruising.
func (p Profile) sCurveTimes(l Limits) (tj, hold, cruise float64) {
	d, v, a, j := p.length, float64(l.Speed), float64(l.Acceleration), float64(l.Jerk)
	if v*j >= a*a { // the full acceleration is reached before the full speed
		tj = a / j
		hold = v/a - tj
	} else {
		tj = math.Sqrt(v / j)
	}
	if ramp := 2*tj + hold; d >= v*ramp {
		return tj, hold, d/v - ramp
	}
	if v*j >= a*a && d >= 2*a*a*a/(j*j) { // too short for the speed, not for the acceleration
		tj = a / j
		peak := a / 2 * (math.Sqrt(tj*tj+4*d/a) - tj)
		return tj, peak/a - tj, 0
	}
	return math.Cbrt(d / (2 * j)), 0, 0
}

// At is the state t seconds after the start: at rest before and after.
func (p Profile) At(t float64) State {
	if !(t > 0) {
		return State{}
	}
	for _, f := range p.phases[:p.count] {
		if t < f.end {
			return f.after(t - f.start)
		}
	}
	return State{Position: p.length}
}
