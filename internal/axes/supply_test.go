// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"testing"

	"boardhand/internal/rig"
)

// Two motors of 0.8 A at 9 V, on 12 V a third more, and 0.8 A of electronics; a stepper
// draws through both phases whatever the supply's voltage.
func TestSupplyLoadByHand(t *testing.T) {
	r := rig.Default()
	r.Power.Voltage = 12
	if got, want := float64(SupplyLoad(r)), 2*0.8*12/9+0.8; math.Abs(got-want) > 1e-12 {
		t.Errorf("got %g A, want %g A", got, want)
	}
	r.Axis.X.Motor.Kind = "stepper"
	if got, want := float64(SupplyLoad(r)), 2*0.8+0.8*12/9+0.8; math.Abs(got-want) > 1e-12 {
		t.Errorf("with a stepper %g A, want %g A", got, want)
	}
}
