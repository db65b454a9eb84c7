// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"
	"testing"
)

// What is known stays, and what is not is guessed: two pairs of White's sides, told apart by
// a1 being dark, and two sizes of the field, of which the height follows by the lens.
func TestGuesses(t *testing.T) {
	s := Setup{Square: 0.04, Image: [2]int{1280, 720}}
	all := s.guesses()
	if len(all) != 4 {
		t.Fatalf("%d guesses, want 4", len(all))
	}
	// 66 degrees: f = 640 / tan 33° = 985.5 px; 8 × 40 mm over 0.85 × 720 px hang at 515 mm.
	if g := all[0]; math.Abs(g.Height-0.5153) > 1e-3 || g.WhiteSide != "bottom" || all[1].WhiteSide != "left" {
		t.Errorf("the first guess is %.4f m, White at the %s", g.Height, g.WhiteSide)
	}
	s.Height, s.HFOV, s.WhiteSide = 0.6, 1, "top"
	all = s.guesses()
	if len(all) != 1 || all[0] != s {
		t.Errorf("all is known, and the guesses are %+v", all)
	}
}

// Sides across from each other are each other's.
func TestOpposite(t *testing.T) {
	for _, side := range []string{"bottom", "top", "left", "right"} {
		if o := Opposite(side); o == side || Opposite(o) != side {
			t.Errorf("across from %s is %s", side, o)
		}
	}
}
