// SPDX-License-Identifier: Apache-2.0

package diagnosis

import "testing"

// The pawn of a6 was dragged to c4, where the pawn of d5 was to go, which stands
// where it stood but for a push; the white queen is gone.
func TestMatch(t *testing.T) {
	a, d, queen := Piece{"a7", "pawn", "black"}, Piece{"d7", "pawn", "black"}, Piece{"d1", "queen", "white"}
	at := func(x, y float64) Sighting { return Sighting{At: Spot{X: x, Y: y}, Sigma: 1e-3} }
	before := Scene{a: at(-0.14, 0.06), d: at(-0.02, 0.02), queen: at(0.1, 0.1)}
	goals := map[Piece]Spot{d: {X: -0.06, Y: -0.02}}
	got := Match(square, before, goals, []Detection{{"black", at(-0.06, -0.02)}, {"black", at(-0.03, 0.025)}})
	if len(got) != 2 || got[d] != at(-0.03, 0.025) || got[a] != at(-0.06, -0.02) {
		t.Errorf("matched %+v", got)
	}
	// The pawn of d5 arrived, and what it pushed aside is not seen.
	got = Match(square, before, goals, []Detection{{"black", at(-0.061, -0.02)}})
	if len(got) != 1 || got[d] != at(-0.061, -0.02) {
		t.Errorf("arrived, and matched %+v", got)
	}
	if got := Match(square, before, goals, nil); len(got) != 0 {
		t.Errorf("nobody was seen, but matched are %+v", got)
	}
}
