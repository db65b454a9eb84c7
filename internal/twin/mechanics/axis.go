// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"

	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// axis is one horizontal drive: what its motor counts, what its play and its
// lost steps make of that, and the force it has left at speed.
type axis struct {
	spec  rig.Axis
	motor float64 // where the counts say the carriage is, m
	lost  float64 // truth minus counts: steps the motor missed, m
	slack float64 // carriage within the play, ±backlash/2, m
	speed float64 // of the motor, m/s
	goal  float64 // where it was last told to be, m
	stuck float64 // for how long it has not followed, s
	slip  bool    // a stepper out of step

	train drive.Train
	count float64 // travel of one count, m
	brake float64 // what its own stall torque can slow it down by, m/s²
	sway  float64 // a stepper: 1/ω of its rotor, with what it moves, on the field's spring, s
}

func newAxis(spec rig.Axis, supply unit.Voltage) (axis, error) {
	a := axis{spec: spec, train: drive.Train{Motor: motor(spec.Motor, supply), Gearing: math.Max(spec.Motor.Gearing, 1e-6),
		Efficiency: spec.Efficiency, Counts: max(1, spec.Motor.Counts)}}
	if a.train.Efficiency == 0 {
		a.train.Efficiency = screwShare
	}
	var err error
	if a.train.Travel, err = travel(spec); err != nil {
		return a, err
	}
	step, err := a.train.Resolution()
	a.count = float64(step)
	a.brake = float64(a.train.ForceAt(0)) / a.mass()
	a.sway = a.swayTime()
	a.motor = float64(spec.Travel) / 3 // wherever it was switched off
	return a, err
}

// travel of one turn of the pinion, pulley or screw.
func travel(spec rig.Axis) (unit.Length, error) {
	switch spec.Drive {
	case "belt":
		return drive.Belt(spec.Pitch, spec.Teeth)
	case "screw":
		return drive.Lead(spec.Lead)
	}
	return drive.Rack(spec.Module, spec.Teeth)
}

// motor is the motor on the machine's supply; on its own voltage where the rig
// names no supply.
func motor(m rig.Motor, supply unit.Voltage) drive.Motor {
	if supply == 0 {
		supply = m.Voltage
	}
	s := drive.Stepper{Hold: m.StallTorque, Voltage: supply, Current: m.Current, Inductance: m.Inductance, FullSteps: m.FullSteps}
	if m.Kind == "stepper" && s.Check() == nil {
		return s
	}
	dc := drive.DC{Stall: m.StallTorque, Free: m.FreeSpeed}
	if on, err := dc.AtVoltage(m.Voltage, supply); err == nil && m.Kind != "stepper" {
		return on
	}
	return dc
}

// mass is what the axis moves, kg; never nothing.
func (a *axis) mass() float64 { return math.Max(float64(a.spec.Moved), leastMass) }

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

// available is the force along the axis that the motor has left at a speed, N.
func (a *axis) available(speed float64) float64 {
	return float64(a.train.ForceAt(unit.Speed(math.Abs(speed))))
}

// follow runs the motor towards its target for one step against the outer
// resistance, newtons, that opposes the motion. false: it could not follow.
func (a *axis) follow(target, resist float64) bool {
	resist += float64(a.spec.Friction)
	if a.spec.Motor.Kind == "stepper" {
		return a.step((target-a.motor)/Step, resist)
	}
	return a.servo(target, resist)
}

// stand takes the speed out and forgets where the motor was going.
func (a *axis) stand() { a.speed, a.stuck, a.goal = 0, 0, a.motor }

// servo is a motor that counts its turns: it runs as its target runs and makes
// up for what it is behind. It falls behind when the load asks too much.
func (a *axis) servo(target, resist float64) bool {
	feed, gap := (target-a.goal)/Step, a.goal-a.motor
	a.goal = target
	if feed == 0 && gap == 0 && a.speed == 0 {
		a.stuck = 0
		return true
	}
	catch := math.Abs(gap) / Step
	if math.Abs(gap) > braked {
		catch = math.Min(catch, math.Sqrt(a.brake*math.Abs(gap))) // half its braking: no overshoot
	}
	v := a.gain(feed+math.Copysign(catch, gap), resist)
	a.speed = v
	a.move(v * Step)
	if math.Abs(v) < creeping && math.Abs(target-a.motor) > a.count {
		a.stuck += Step
		return false
	}
	a.stuck = 0
	return math.Abs(target-a.motor) < lagging
}

// gain is the speed after one step for a motor that wants one: what its force
// allows. The load brakes but does not turn it backwards.
func (a *axis) gain(want, resist float64) float64 {
	dir := math.Copysign(1, want)
	forward := (a.available(a.speed) - resist) / a.mass() * Step
	back := (a.brake + resist/a.mass()) * Step
	lo, hi := a.speed-back, a.speed+forward
	if dir < 0 {
		lo, hi = a.speed-forward, a.speed+back
	}
	v := math.Max(math.Min(lo, hi), math.Min(math.Max(lo, hi), want))
	if v*dir < 0 && a.speed*dir <= 0 {
		return 0
	}
	return v
}

// swayTime is 1/ω of a stepper's rotor on the spring that its field is: stiffness p·T a
// radian for p rotor teeth, a quarter of the full steps a turn (P. P. Acarnley, Stepping
// Motors, natural frequency of single-step response; from memory). s, never below Step.
func (a *axis) swayTime() float64 {
	turn := a.spec.Motor.FullSteps
	if turn == 0 {
		turn = usualSteps
	}
	teeth := float64(turn) / 4
	radius := float64(a.train.Travel) / (2 * math.Pi) / a.train.Gearing
	return math.Max(Step, math.Sqrt(radius/(teeth*a.brake)))
}

// step is a motor that does not look: beyond its line it loses steps, and
// goes on losing them until it is told to go slowly. It feels how the motion gains speed
// through its field's spring, not each step by itself.
func (a *axis) step(want, resist float64) bool {
	gain := (want - a.speed) / a.sway
	force := resist + a.mass()*math.Abs(gain)
	a.speed += gain * Step
	if math.Abs(want) > restart && force > a.available(want) {
		a.slip = true
	} else if math.Abs(want) <= restart {
		a.slip = false
	}
	if a.slip {
		a.motor += want * Step
		a.lost -= want * Step
		return false
	}
	a.move(want * Step)
	return true
}
