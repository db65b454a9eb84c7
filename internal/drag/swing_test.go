// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// mapped is a usual piece whose forces are read from a table.
func mapped(t *testing.T, grams float64) Stand {
	t.Helper()
	lower, upper := disc(10, 5, 1.3), disc(6, 2, 1.3)
	m, err := magnet.NewMap(lower, upper, magnet.MapRange{GapFrom: unit.MM(3), GapTo: unit.MM(8), OffsetTo: unit.MM(80)})
	if err != nil {
		t.Fatal(err)
	}
	s := stand(lower, upper, 4.9, grams)
	s.Pull = m
	return s
}

// A piece pushed a little from its sliding lag, with the magnet running at an
// even speed, swings at Rate: its turning points, step by step through time.
func TestSwingRate(t *testing.T) {
	for _, grams := range []float64{5, 14} {
		s := mapped(t, grams)
		w, err := s.Swing()
		if err != nil {
			t.Fatal(err)
		}
		d := &sled{t: t, s: s, x: -float64(w.Held - w.Jump/2), v: 0.1}
		var turns []float64 // when the piece is as fast as the magnet and slowing
		faster := false
		for k := range 20000 {
			d.tick(0.1 * float64(k+1) * step)
			if now := d.v > 0.1+1e-9; now != faster {
				if !now {
					turns = append(turns, float64(k)*step)
				}
				faster = now
			}
		}
		n := len(turns) - 1
		got := 2 * math.Pi * float64(n) / (turns[n] - turns[0])
		t.Logf("%g g: swings at %.0f rad/s, stated %.0f", grams, got, w.Rate)
		near(t, "rate", w.Rate/got, 1, 0.2)
	}
}

// Wherever a hard-driven piece comes to rest, it is within Astray of its lag.
func TestAstrayBoundsTheArrival(t *testing.T) {
	s := mapped(t, 8)
	w, err := s.Swing()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []float64{0.4, 1, 2, 4} {
		most := 0.0
		for length := 0.05; length < 0.06; length += 0.0009 {
			d := &sled{t: t, s: s}
			d.trajectory(length, 0.3, a)
			most = max(most, math.Abs(length-d.x-float64(w.Held-w.Jump)))
		}
		bound := w.Astray(unit.Acceleration(a), 1e6)
		t.Logf("%g m/s²: rests up to %.2f mm from its lag, stated %v", a, most*1e3, bound)
		if most > float64(bound) {
			t.Errorf("%g m/s²: rests %.2f mm from its lag, stated at most %v", a, most*1e3, bound)
		}
		if soft := w.Astray(unit.Acceleration(a), 4); soft > bound {
			t.Errorf("%g m/s²: a soft start is worse: %v over %v", a, soft, bound)
		}
	}
}
