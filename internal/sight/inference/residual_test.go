// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"testing"

	"boardhand/internal/sight/background"
)

// A residual that begins at a piece is its shadow where it is darker by no more than a core
// shadow and coloured as the light's shadows are; what is brighter, deeper, coloured otherwise or
// apart from every piece is something that lies there.
func TestShadowOfAPieceIsToldFromAThing(t *testing.T) {
	air := &background.Conditions{ShadowTint: [2]float64{0.1, -0.2}}
	at := func(dl, da, db float64) Residual {
		return Residual{AtBase: true, departure: [3]float64{dl, 0.1*dl + da, -0.2*dl + db}}
	}
	apart := at(-0.5, 0, 0)
	apart.AtBase = false
	for _, c := range []struct {
		what string
		p    Residual
		want bool
	}{
		{"half as bright, in the shadows' tint", at(-0.7, 0, 0), true},
		{"just darker", at(-0.15, 0.03, -0.03), true},
		{"hardly darker: no shadow", at(-0.05, 0, 0), false},
		{"brighter", at(0.4, 0, 0), false},
		{"deeper than a core shadow: a black thing", at(-1.4, 0, 0), false},
		{"dark and red", at(-0.5, 0.3, 0), false},
		{"dark and blue", at(-0.5, 0, 0.3), false},
		{"apart from every piece", apart, false},
	} {
		if got := c.p.IsShadow(air); got != c.want {
			t.Errorf("%s: a shadow %v, want %v", c.what, got, c.want)
		}
	}
}
