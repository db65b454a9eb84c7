// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"
	"testing"

	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// A quick axis follows its target as long as the force of its motor line at
// every speed is more than inertia and friction ask for; with less it falls
// behind, and catches up at the end without running over.
func TestServoFollowsWithinItsMotorLine(t *testing.T) {
	spec := rig.Default().Axis.Y
	spec.Travel, spec.Backlash, spec.Motor.FreeSpeed = 0.6, 0, unit.RPM(1600)
	curve, err := drive.SCurve(0.4, drive.Limits{Speed: 0.8, Acceleration: 10, Jerk: 500})
	must(t, err)
	for _, c := range []struct {
		share   float64 // of the torque that just does
		follows bool
	}{{1.05, true}, {2, true}, {0.6, false}} {
		spec.Motor.StallTorque = 1
		a, err := newAxis(spec, 0)
		must(t, err)
		need := 0.0 // of its force at a speed
		for k := range 1000 {
			s := curve.At(curve.Duration() * float64(k) / 1000)
			force := float64(spec.Moved)*math.Max(0, s.Acceleration) + float64(spec.Friction)
			need = math.Max(need, force/a.available(s.Speed))
		}
		spec.Motor.StallTorque = unit.Torque(need * c.share)
		a, err = newAxis(spec, 0)
		must(t, err)
		a.motor = 0.1
		a.stand()
		behind, over, ok := 0.0, 0.0, true
		for k := range int((curve.Duration() + 0.5) / Step) {
			target := 0.1 + curve.At(math.Min(curve.Duration(), float64(k+1)*Step)).Position
			ok = a.follow(target, 0) && ok
			behind, over = math.Max(behind, target-a.motor), math.Max(over, a.motor-0.5)
		}
		t.Logf("%.2f of the torque that does (%.3f N·m): at most %.2f mm behind, %.3f mm over the end", c.share, need, behind*1e3, over*1e3)
		if ok != c.follows || c.follows && behind > 0.2e-3 || over > 1e-5 || math.Abs(a.motor-0.5) > 1e-6 {
			t.Errorf("%.2f of the torque that does: follows %v, %.2f mm behind, %.3f mm over, ends at %.3f mm", c.share, ok, behind*1e3, over*1e3, a.motor*1e3)
		}
	}
}

// A controller turns a stepper in whole microsteps, which come five or six to a step of the
// simulation: they shake the rotor on its field's spring and pull it from no step. The same
// motor is pulled out of step by a motion whose inertia alone is more than it can hold.
func TestStepperFeelsTheMotionAndNotItsMicrosteps(t *testing.T) {
	spec := rig.Axis{Drive: "belt", Pitch: unit.MM(2), Teeth: 16, Moved: 0.34, Friction: 0.9, Efficiency: 0.9, Travel: unit.MM(204),
		Motor: rig.Motor{Kind: "stepper", StallTorque: 0.1, Counts: 3200, Gearing: 1, Current: 0.5, Voltage: 12, Inductance: 8e-3, FullSteps: 200}}
	run := func(accel float64) (lost float64) {
		a, err := newAxis(spec, 12)
		must(t, err)
		a.motor = 0
		for k := range 600 {
			s := float64(k+1) * Step
			at := accel * s * s / 2
			if accel*s > 0.11 {
				at = 0.11*s - 0.11*0.11/accel/2
			}
			a.follow(math.Floor(at/a.count)*a.count, 0)
		}
		return a.lost
	}
	if lost := run(0.5); lost != 0 {
		t.Errorf("at 0.5 m/s² it lost %.2f mm", lost*1e3)
	}
	hold := 0.1 / (0.032 / (2 * math.Pi)) * 0.9 // N at the belt
	if lost := run(1.5 * hold / float64(spec.Moved)); lost == 0 {
		t.Error("half as much again as it can hold and it lost nothing")
	}
}
