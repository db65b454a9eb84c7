// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"math"
	"testing"

	"boardhand/internal/unit"
)

func TestScrewExamples(t *testing.T) {
	for _, w := range []struct {
		name        string
		s           Screw
		load        unit.Force
		raise, effi float64
		digits      float64
	}{
		// Shigley, Mechanical Engineering Design, example 8-1 (inputs read in a
		// stored exercise, answers from memory, computed 26.177, 0.3113).
		{"d 32 p 4, two starts", Screw{Mean: unit.MM(30), Lead: unit.MM(8), Friction: 0.08, Collar: unit.MM(40), Rub: 0.08},
			6400, 26.177, 0.3113, 6e-4},
		// A worked Shigley exercise: 15.845 N·m, 25.1 %.
		{"d 25 p 5", Screw{Mean: unit.MM(22.5), Lead: unit.MM(5), Friction: 0.09, Collar: unit.MM(45), Rub: 0.06},
			5000, 15.845, 0.251, 5e-3}, // the exercise rounds on the way: computed 15.849
		// alocentral.com power-screw example: 3.54 N·m (1.513 + 2.025).
		{"d 12 l 2.5", Screw{Mean: unit.MM(10), Lead: unit.MM(2.5), Friction: 0.25, Collar: unit.MM(18), Rub: 0.25},
			900, 3.538, math.NaN(), 1e-3},
	} {
		near(t, w.name+" raise", float64(must(w.s.Raise(w.load))(t)), w.raise, w.digits)
		if !math.IsNaN(w.effi) {
			near(t, w.name+" efficiency", must(w.s.Efficiency())(t), w.effi, w.digits)
		}
	}
	a := Screw{Mean: unit.MM(30), Lead: unit.MM(8), Friction: 0.08}
	near(t, "thread alone, raise", float64(must(a.Raise(6400))(t)), 15.94, 5e-3)
}

// Without friction all work arrives.
func TestScrewEnergyBalance(t *testing.T) {
	s := Screw{Mean: unit.MM(7), Lead: unit.MM(8)}
	near(t, "efficiency without friction", must(s.Efficiency())(t), 1, 1e-12)
	flat := Screw{Mean: unit.MM(7), Lead: unit.MM(2), Friction: 0.2}
	acme := flat
	acme.Flank = unit.Degrees(14.5)
	if must(acme.Efficiency())(t) >= must(flat.Efficiency())(t) {
		t.Error("a slanted flank must cost efficiency")
	}
	for _, bad := range []Screw{{}, {Mean: unit.MM(5), Lead: unit.MM(40), Friction: 0.5}, {Mean: unit.MM(5), Lead: unit.MM(2), Friction: -1},
		{Mean: unit.Length(math.NaN()), Lead: unit.MM(2)}, {Mean: unit.MM(5), Lead: unit.MM(2), Flank: 2}, {Mean: unit.MM(5), Lead: unit.MM(2), Collar: -1}} {
		if _, err := bad.Efficiency(); err == nil {
			t.Errorf("%+v must be refused", bad)
		}
	}
}
