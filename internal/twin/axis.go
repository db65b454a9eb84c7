package twin

import (
	"math"

	"boardhand/internal/rig"
)

// axis is one horizontal drive: what its motor counts, what its play and its
// lost steps make of that, and the force it has left at speed.
type axis struct {
	spec  rig.Axis
	motor float64 // where the counts say the carriage is, m
	lost  float64 // truth minus counts: steps the motor missed, m
	slack float64 // carriage within the play, ±backlash/2, m
	speed float64 // of the motor, m/s
	stuck float64 // for how long it has not followed, s
	slip  bool    // a stepper out of step

	stallForce float64 // at the rack, N
	freeSpeed  float64 // at the rack, m/s
	count      float64 // travel of one count, m
}

// perTurn is the travel of one turn of the pinion, pulley or screw, m:
// π·module·teeth, pitch·teeth, or the lead.
// Exact gear geometry (ISO 53, ISO 54: definition of the module).
func perTurn(a rig.Axis) float64 {
	switch a.Drive {
	case "belt":
		return float64(a.Pitch) * float64(a.Teeth)
	case "screw":
		return float64(a.Lead)
	}
	return math.Pi * float64(a.Module) * float64(a.Teeth)
}

func newAxis(spec rig.Axis) axis {
	a := axis{spec: spec}
	turn := perTurn(spec) / math.Max(spec.Motor.Gearing, 1e-6) // travel of one motor turn
	share := spec.Efficiency
	if share == 0 {
		share = screwShare
	}
	a.stallForce = float64(spec.Motor.StallTorque) * 2 * math.Pi / turn * share
	a.freeSpeed = float64(spec.Motor.FreeSpeed) * turn / (2 * math.Pi)
	a.count = turn / math.Max(1, float64(spec.Motor.Counts))
	a.motor = float64(spec.Travel) / 3 // wherever it was switched off
	return a
}

// screwShare is the efficiency of a screw when the rig gives none: 0.25–0.31
// for trapezoidal threads (Shigley, Mechanical Engineering Design, ch. 8).
const screwShare = 0.28

// counted is the position the controller reports, in whole counts.
func (a *axis) counted() float64 { return math.Round(a.motor/a.count) * a.count }

// carriage is where the axis truly is.
func (a *axis) carriage() float64 { return a.motor + a.lost + a.slack }

// move shifts the motor; the carriage follows when the play is used up.
func (a *axis) move(by float64) {
	a.motor += by
	half := float64(a.spec.Backlash) / 2
	a.slack = math.Max(-half, math.Min(half, a.slack-by))
}

// available is the force at the rack at a speed: the straight motor line
// F = F_stall (1 − v/v_free), N. Newton, m/s; 0 ≤ v.
// Source: MIT, Understanding D.C. Motor Characteristics.
func (a *axis) available(speed float64) float64 {
	return math.Max(0, a.stallForce*(1-math.Abs(speed)/a.freeSpeed))
}

// follow runs the motor towards its target for one step against the outer
// resistance, newtons, that opposes the motion. false: it could not follow.
func (a *axis) follow(target, resist float64) bool {
	want := (target - a.motor) / dt
	resist += float64(a.spec.Friction)
	if a.spec.Motor.Kind == "stepper" {
		return a.step(want, resist)
	}
	return a.servo(want, resist)
}

// servo is a motor that counts its turns: it falls behind when the load asks
// too much and catches up later.
func (a *axis) servo(want, resist float64) bool {
	if math.Abs(want) < 1e-12 && a.speed == 0 {
		a.stuck = 0
		return true
	}
	mass := math.Max(float64(a.spec.Moved), 1e-3)
	dir := math.Copysign(1, want)
	forward := (a.available(a.speed) - resist) / mass * dt
	back := (a.stallForce + resist) / mass * dt
	lo, hi := a.speed-back, a.speed+forward
	if dir < 0 {
		lo, hi = a.speed-forward, a.speed+back
	}
	v := math.Max(math.Min(lo, hi), math.Min(math.Max(lo, hi), want))
	if v*dir < 0 && a.speed*dir <= 0 { // the load does not turn the motor backwards
		v = 0
	}
	a.speed = v
	a.move(v * dt)
	if math.Abs(v) < 0.01*math.Abs(want) {
		a.stuck += dt
		return false
	}
	a.stuck = 0
	return math.Abs(want-v) < 1e-3+0.05*math.Abs(want)
}

// restart is the speed below which a stepper out of step falls in again, m/s.
const restart = 0.002

// step is a motor that does not look: beyond its line it loses steps, and
// goes on losing them until it is told to go slowly.
func (a *axis) step(want, resist float64) bool {
	force := resist + float64(a.spec.Moved)*math.Abs(want-a.speed)/dt
	a.speed = want
	if math.Abs(want) > restart && force > a.available(want) {
		a.slip = true
	} else if math.Abs(want) <= restart {
		a.slip = false
	}
	if a.slip {
		a.motor += want * dt
		a.lost -= want * dt
		return false
	}
	a.move(want * dt)
	return true
}
