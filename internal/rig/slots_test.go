// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"math"
	"testing"
)

// Slots stand evenly along both long edges, the a side first, and are named so.
func TestSlots(t *testing.T) {
	r := Default()
	if r.Slots() != nil {
		t.Error("a rig without trays has slots")
	}
	r.Removal = Removal{Mode: "tray", Slots: 4, Gap: 0.04}
	all, half := r.Slots(), float64(r.Board.Field())/2
	if len(all) != 8 {
		t.Fatalf("%d slots", len(all))
	}
	for _, c := range []struct {
		k    int
		x, y float64
		name string
	}{{0, -half - 0.04, -0.75 * half, "L1"}, {3, -half - 0.04, 0.75 * half, "L4"}, {4, half + 0.04, -0.75 * half, "R1"}} {
		if at := all[c.k]; math.Hypot(at.X-c.x, at.Y-c.y) > 1e-12 || SlotName(c.k, 8) != c.name {
			t.Errorf("slot %d is %s at %v, want %s at %g, %g", c.k, SlotName(c.k, 8), at, c.name, c.x, c.y)
		}
	}
}
