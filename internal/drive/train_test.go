// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"math"
	"testing"

	"boardhand/internal/unit"
)

func rackTrain() Train {
	return Train{Motor: DC{unit.Torque(0.2), unit.RPM(175)}, Travel: unit.MM(50.2655), Gearing: 1.5, Efficiency: 0.9, Counts: 360}
}

// What the motor puts in, times the efficiency, comes out along the axis.
func TestTrainPowerBalance(t *testing.T) {
	tr := rackTrain()
	for _, v := range []unit.Speed{0.01, 0.05, 0.09} {
		w := tr.MotorTurns(v)
		in := float64(w) * float64(tr.Motor.TorqueAt(w))
		near(t, "power", float64(tr.ForceAt(v))*float64(v), 0.9*in, 1e-12)
	}
}

func TestStallMargin(t *testing.T) {
	tr := rackTrain()
	load := Load{Mass: 0.5, Friction: 2, Drag: 1, Accel: 0.4}
	near(t, "need", float64(load.Needs()), 3.2, 1e-12)
	s := must(tr.StallMargin(load, 0.05))(t)
	if s.At != 0.05 {
		t.Errorf("a motor line is weakest at top speed; got %v", s.At)
	}
	near(t, "margin", s.Margin, float64(tr.ForceAt(0.05))/3.2-1, 1e-12)
	near(t, "force at the fastest speed", float64(tr.ForceAt(s.Top)), 3.2, 1e-6)
	if s = must(tr.StallMargin(load, s.Top*1.01))(t); s.Margin >= 0 {
		t.Error("above the fastest speed there must be no margin")
	}
	load.Friction = 1000
	if s = must(tr.StallMargin(load, 0.05))(t); s.Top != 0 || s.Margin >= 0 {
		t.Errorf("an impossible load: got %+v", s)
	}
	for _, bad := range []Train{{}, {Motor: DC{1, 1}, Travel: 1, Gearing: 1, Efficiency: 2}, {Motor: DC{1, 1}, Travel: 0, Gearing: 1, Efficiency: 1}} {
		if _, err := bad.StallMargin(load, 0.1); err == nil {
			t.Errorf("%+v must be refused", bad)
		}
	}
	if _, err := tr.StallMargin(Load{}, 0.1); err == nil {
		t.Error("a load that needs no force must be refused")
	}
	if _, err := tr.StallMargin(load, unit.Speed(math.NaN())); err == nil {
		t.Error("NaN speed must be refused")
	}
}
