// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Walls stop the carriage's body, travel stops the axis, and half the backlash
// is left; a wall that is not given stops nothing.
func TestSides(t *testing.T) {
	r := rig.Default()
	r.Axis.X.Travel, r.Axis.X.Origin, r.Axis.X.Backlash = unit.MM(300), unit.MM(140), unit.MM(1)
	r.Walls.Left, r.Carriage.Left = unit.MM(200), unit.MM(70)
	r.Walls.Right, r.Carriage.Right = 0, unit.MM(70)
	s := Sides(r)
	for i, want := range []struct {
		reach float64
		by    string
	}{{129.5, "walls"}, {159.5, "travel"}} {
		if math.Abs(s[i].Reach.MM()-want.reach) > 1e-9 || s[i].By != want.by {
			t.Errorf("%s: %v by %s, want %g mm by %s", s[i].Name, s[i].Reach, s[i].By, want.reach, want.by)
		}
	}
	if at := Reach(r); math.Abs(at.Min.X+0.1295) > 1e-12 || math.Abs(at.Max.X-0.1595) > 1e-12 {
		t.Errorf("reach %v", at)
	}
}

// A wall inside the carriage's body leaves no reach at all: it is not taken for
// one that was not given.
func TestWallInsideTheCarriage(t *testing.T) {
	r := rig.Default()
	r.Walls.Left, r.Carriage.Left = unit.MM(60), unit.MM(70)
	if s := Sides(r)[0]; s.Reach >= 0 || s.By != "walls" {
		t.Errorf("%v by %s", s.Reach, s.By)
	}
}

// The force of a train, by energy: a turn of the motor does 2π times its torque,
// less the losses, along the travel of that turn.
func TestTrainByEnergy(t *testing.T) {
	r := rig.Default()
	for _, k := range []struct {
		drive string
		turn  float64 // m a turn of pinion, pulley or screw
	}{{"rack", math.Pi * 1e-3 * 16}, {"belt", 2e-3 * 20}, {"screw", 8e-3}} {
		a := r.Axis.X
		a.Drive, a.Module, a.Pitch, a.Lead = k.drive, unit.MM(1), unit.MM(2), unit.MM(8)
		if a.Teeth = 16; k.drive == "belt" {
			a.Teeth = 20
		}
		a.Efficiency = 0.5
		train, err := Train(r, a)
		if err != nil {
			t.Fatal(err)
		}
		torque := float64(train.Motor.TorqueAt(0))
		want := 2 * math.Pi * torque * a.Motor.Gearing * 0.5 / k.turn
		if got := float64(train.ForceAt(0)); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %g N, want %g N", k.drive, got, want)
		}
	}
}

// A screw that names no efficiency is computed from its thread: 8 mm of lead on
// a small screw, tan λ/tan(λ + ρ) with the flank's friction, between 0.5 and 0.7.
func TestScrewComputesItsEfficiency(t *testing.T) {
	r := rig.Default()
	a := r.Axis.X
	a.Drive, a.Lead, a.Efficiency = "screw", unit.MM(8), 0
	train, err := Train(r, a)
	if err != nil {
		t.Fatal(err)
	}
	lead := math.Atan(8 / (math.Pi * 7))
	rub := math.Atan(0.2 / math.Cos(15*math.Pi/180))
	if want := math.Tan(lead) / math.Tan(lead+rub); math.Abs(train.Efficiency-want) > 0.02 {
		t.Errorf("efficiency %.3f, want about %.3f", train.Efficiency, want)
	}
}

func TestUnknownDrive(t *testing.T) {
	r := rig.Default()
	a := r.Axis.X
	a.Drive = "string"
	if _, err := Train(r, a); err == nil {
		t.Error("it is taken")
	}
}
