// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// 336 mm at module 1 are 106.95 teeth: 107, and two beyond each end.
func TestRackTeethByHand(t *testing.T) {
	a := rig.Default().Axis.X
	if n := RackTeeth(a); n != 111 {
		t.Errorf("got %d, want 111", n)
	}
	if a.Drive = "belt"; RackTeeth(a) != 0 {
		t.Error("a belt has rack teeth")
	}
}

// A closed belt walked along: two straight parts and two half turns. An open one
// leaves the body out and is longer by both grips.
func TestBeltLoopWalked(t *testing.T) {
	a := rig.Default().Axis.X
	a.Drive, a.Pitch, a.Teeth = "belt", unit.MM(2), 20
	l := BeltLoop(a, unit.MM(48))
	radius := 20 * 2.0 / (2 * math.Pi)
	if want := 336 + 48 + 2*radius + 10; math.Abs(l.Apart.MM()-want) > 1e-9 {
		t.Errorf("axes %g mm apart, want %g", l.Apart.MM(), want)
	}
	walked := 2*l.Apart.MM() + 2*math.Pi*radius
	if d := l.Closed.MM() - walked; d < -1e-9 || d >= 2 || math.Mod(l.Closed.MM()+1e-6, 2) > 1e-5 {
		t.Errorf("closed %g mm, walked %g", l.Closed.MM(), walked)
	}
	if want := l.Closed.MM() - 48 + 2*6*2; math.Abs(l.Open.MM()-want) > 1e-9 {
		t.Errorf("open %g mm, want %g", l.Open.MM(), want)
	}
}

func TestScrewLengthByHand(t *testing.T) {
	a := rig.Default().Axis.X
	if got := ScrewLength(a).MM(); math.Abs(got-(336+15+40)) > 1e-9 {
		t.Errorf("got %g mm", got)
	}
}
