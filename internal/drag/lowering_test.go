// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// A piece that rests behind the raised magnet, moved step by step through time
// while the magnet sinks: it stays where StaysLowered says so, and is drawn
// along by a wide drive magnet, whose pull at a small offset is little while it
// is near.
func TestLoweredMagnetLeavesThePiece(t *testing.T) {
	for _, c := range []struct {
		name         string
		lower, upper magnet.Cylinder
		gap, grams   float64
		stays        bool
	}{
		{"a usual pair", disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 8, true},
		{"a light piece", disc(8, 4, 1.3), disc(5, 2, 1.3), 4.9, 3, true},
		{"a wide magnet near by", disc(40, 3, 1.3), disc(5, 2, 1.3), 2, 20, false},
	} {
		s := stand(c.lower, c.upper, c.gap, c.grams)
		sp := Spread{Weak: 0.95, Strong: 1.05, Near: unit.MM(c.gap - 0.3), Far: unit.MM(c.gap + 0.3)}
		got, err := s.StaysLowered(sp, unit.MM(18))
		if err != nil {
			t.Fatal(err)
		}
		if got != c.stays {
			t.Errorf("%s: stays %v, want %v", c.name, got, c.stays)
		}
		most, err := s.Lag(s.Static, 0)
		if err != nil {
			t.Fatal(err)
		}
		moved := 0.0
		for _, share := range []float64{0.3, 0.6, 0.9, 0.999} {
			d := &sled{t: t, s: s, x: -share * float64(most)}
			for sunk := 0.0; sunk < 0.018; sunk += 40e-3 * 10 * step { // 40 mm/s
				d.s.Gap = s.Gap + unit.Length(sunk)
				for range 10 {
					d.tick(0)
				}
			}
			moved = max(moved, d.x+share*float64(most))
		}
		t.Logf("%s: rests up to %v behind, moves by up to %.3f mm", c.name, most, moved*1e3)
		if (moved == 0) != c.stays {
			t.Errorf("%s: it moves by %.3f mm", c.name, moved*1e3)
		}
	}
}
