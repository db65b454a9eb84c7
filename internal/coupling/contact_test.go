// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// The magnet as a point on a spring that ends where the spring is loose or, without one,
// stands still: its distance from a sheet that bows half of the warp to and fro, by hand.
func TestGapsOverTheWarp(t *testing.T) {
	for name, w := range map[string]struct{ spring, preload, air, warp, near, far float64 }{
		"follows":                   {0.1, 0.5, 0.5, 0.6, 4.9, 4.9},
		"follows a large warp":      {0.1, 0.5, 0.5, 4, 4.9, 4.9},
		"loose 0.2 mm below":        {2, 0.2, 0.5, 0.6, 4.9, 5.1},
		"no spring":                 {0, 0.5, 0.5, 0.6, 4.6, 5.2},
		"no spring, jammed at once": {0, 0.5, 0.1, 0.6, 4.4, 4.8},
	} {
		r := rig.Default()
		r.Lift.Spring, r.Lift.Preload = unit.Stiffness(w.spring*1e3), unit.Force(w.preload)
		r.Lift.Air, r.Board.Warp = unit.MM(w.air), unit.MM(w.warp)
		near, far := Gaps(r)
		if math.Abs(near.MM()-w.near) > 1e-9 || math.Abs(far.MM()-w.far) > 1e-9 {
			t.Errorf("%s: %v to %v, want %g to %g mm", name, near, far, w.near, w.far)
		}
	}
}
