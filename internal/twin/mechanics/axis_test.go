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
