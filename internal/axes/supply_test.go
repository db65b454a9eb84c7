// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"testing"

	"boardhand/internal/rig"
)

// Two motors of 0.8 A at 9 V, on 12 V a third more, and 0.8 A of electronics. A stepper
// of 9 V and 0.8 A heats 2·0.8·9 W; its shaft gives 2·(0.6 N + 0.18 kg·0.4 m/s²)·0.12 m/s
// over 0.9. Drivers that hold the motors to 9 V leave the others at 0.8 A.
func TestSupplyLoadByHand(t *testing.T) {
	r := rig.Default()
	r.Power.Voltage = 12
	if got, want := float64(SupplyLoad(r)), 2*0.8*12/9+0.8; math.Abs(got-want) > 1e-12 {
		t.Errorf("got %g A, want %g A", got, want)
	}
	r.Axis.X.Motor.Kind = "stepper"
	if got, want := float64(SupplyLoad(r)), (2*0.8*9+2*0.672*0.12/0.9)/(0.85*12)+0.8*12/9+0.8; math.Abs(got-want) > 1e-12 {
		t.Errorf("with a stepper %g A, want %g A", got, want)
	}
	r.Power.Motors, r.Lift.Current = 9, 0.3
	if got, want := float64(SupplyLoad(r)), (2*0.8*9+2*0.672*0.12/0.9)/(0.85*12)+0.8+0.3+0.8; math.Abs(got-want) > 1e-12 {
		t.Errorf("held to 9 V, with a lift, %g A, want %g A", got, want)
	}
}

// A rotor of 10 g·cm² behind 34:1 on a pinion of 8 mm radius runs at 34/8 rad a
// millimetre: at 1 m/s it holds ½·J·ω², as much as 18 kg do.
func TestRotorWeighsAsItsEnergy(t *testing.T) {
	a := rig.Default().Axis.X
	a.Motor.Inertia, a.Motor.Gearbox = 10e-7, 34
	omega := 34 / 8e-3
	if got, want := float64(Rotor(a)), 10e-7*omega*omega; math.Abs(got-want) > 1e-9 || got < 18 || got > 18.2 {
		t.Errorf("got %g kg, want %g", got, want)
	}
	plain := Load(rig.Default().Axis.X, 0, 0).Needs()
	if got, want := float64(Load(a, 0, 0).Needs()-plain), 18.0625*0.4; math.Abs(got-want) > 1e-6 {
		t.Errorf("speeding it up at 0.4 m/s² takes %g N, want %g", got, want)
	}
}
