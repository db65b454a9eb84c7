// SPDX-License-Identifier: Apache-2.0

// Who checks whom in this package:
//
//	Rack, Belt, Lead, CountsPerMetre ← published steps a millimetre; each other
//	Screw                            ← three worked examples; energy balance
//	DC, Stepper                      ← published points; scaling
//	Train                            ← power in = power out; force put back
//	Trapezoid, SCurve                ← tables of times; speed and jerk summed
//	                                   over time; each other at endless jerk
package drive

import (
	"fmt"
	"math"
	"testing"

	"boardhand/internal/unit"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}

func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Gear geometry, ISO 53/54; computed.
func TestTravel(t *testing.T) {
	for _, w := range []struct {
		module float64
		teeth  int
		want   float64
	}{{1, 8, 25.1327}, {1, 16, 50.2655}, {1, 20, 62.8319}, {2, 20, 125.664}} {
		near(t, fmt.Sprintf("rack m %g z %d", w.module, w.teeth), must(Rack(unit.MM(w.module), w.teeth))(t).MM(), w.want, 6e-4)
	}
	near(t, "belt", must(Belt(unit.MM(2), 20))(t).MM(), 40, 1e-12) // maker practice
	for _, z := range []int{0, -3} {
		if _, err := Rack(unit.MM(1), z); err == nil {
			t.Errorf("%d teeth must be refused", z)
		}
		if _, err := Belt(unit.MM(2), z); err == nil {
			t.Errorf("%d teeth must be refused", z)
		}
	}
	if _, err := Lead(unit.Length(math.NaN())); err == nil {
		t.Error("NaN lead must be refused")
	}
}

// Grbl, doc/markdown/settings.md, $100, and public calculator pages; the
// geared screw: RepRap forum, thread 677333 (2016).
func TestStepsPerMillimetre(t *testing.T) {
	for _, w := range []struct {
		travel, gearing, want float64
	}{{40, 1, 80}, {32, 1, 100}, {8, 1, 400}, {2, 1, 1600}, {8, 20.0 / 32, 250}} {
		got := must(CountsPerMetre(200*16, w.gearing, unit.MM(w.travel)))(t)
		near(t, fmt.Sprintf("travel %g", w.travel), got/1e3, w.want, 1e-9)
		train := Train{Travel: unit.MM(w.travel), Gearing: w.gearing, Counts: 200 * 16}
		near(t, "resolution", must(train.Resolution())(t).MM(), 1/w.want, 1e-12)
	}
	near(t, "32 over 20 teeth on lead 8: travel a motor turn", 8*32.0/20, 12.8, 1e-12)
}
