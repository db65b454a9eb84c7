// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"math"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/unit"
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
		if name := r.Beside(frame.Spot[frame.Board]{X: c.x + 0.002, Y: c.y}); name != c.name {
			t.Errorf("2 mm from %s is called %s", c.name, name)
		}
	}
}

// The trapdoor has a name of its own; what stands anywhere else is beside the board.
func TestBesideTheBoard(t *testing.T) {
	r := Default()
	r.Removal = Removal{Mode: "chute", Chute: [2]unit.Length{0.2, 0}}
	for x, want := range map[float64]string{0.2: "chute", 0.23: "beside"} {
		if name := r.Beside(frame.Spot[frame.Board]{X: x}); name != want {
			t.Errorf("at %g m is called %s, want %s", x, name, want)
		}
	}
}
