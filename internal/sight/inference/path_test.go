// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"math"
	"testing"

	"boardhand/internal/sight/nats"
)

// Two pictures that saw the ply, one after the other, say so together; one that shows an odd
// state says nothing; and no picture can go back.
func TestPathEvidence(t *testing.T) {
	of := func(before, after, odd float64) Stages {
		return Stages{Boards: []nats.LogEvidence{nats.LogEvidence(before), nats.LogEvidence(after)}, Odd: nats.LogEvidence(odd)}
	}
	stays := func(s ...Stages) []Stages {
		out := make([]Stages, len(s))
		for k := range s {
			out[k] = Stages{Boards: s[k].Boards[:1], Odd: s[k].Odd}
		}
		return out
	}
	lead := func(s ...Stages) float64 { return float64(PathEvidence(s) - PathEvidence(stays(s...))) }
	one, two := lead(of(0, 6, -30)), lead(of(0, 6, -30), of(0, 6, -30))
	if one < 4 || two < one+5 {
		t.Errorf("one picture that saw the ply says %.1f nats, two say %.1f", one, two)
	}
	if v := lead(of(0, 60, 60)); v > 12 {
		t.Errorf("an odd state says %.1f nats for the ply", v)
	}
	if there, back := lead(of(0, -40, -60), of(0, 40, -60)), lead(of(0, 40, -60), of(0, -40, -60)); there < back+30 {
		t.Errorf("the ply in the second picture: %.1f nats; in the first alone: %.1f", there, back)
	}
	if v := PathEvidence(nil); v != 0 {
		t.Errorf("no pictures say %v", v)
	}
	if v := float64(PathEvidence([]Stages{of(math.Inf(-1), math.Inf(-1), 0)})); math.IsNaN(v) || math.IsInf(v, 0) {
		t.Errorf("a picture of an odd state alone: %v", v)
	}
}
