// SPDX-License-Identifier: Apache-2.0

package sizes

import (
	"math"
	"testing"

	"boardhand/internal/chess"
)

// A usual king is as high and wide as said, and a pawn half as high.
func TestUsual(t *testing.T) {
	m := Usual(0.04, 0.5, 1.5)
	if k := m[chess.King]; math.Abs(k.Height-0.06) > 1e-12 || math.Abs(k.Base-0.02) > 1e-12 {
		t.Errorf("a king is %+v", k)
	}
	if p := m[chess.Pawn]; math.Abs(p.Height-0.03) > 1e-12 || p.Base >= 0.02 {
		t.Errorf("a pawn is %+v", p)
	}
}

// Where one pair of measures fits and no other, the spread is the grid's own; where all fit
// alike, that of the whole grid.
func TestSpread(t *testing.T) {
	sharp, flat := make([][]float64, len(bases)), make([][]float64, len(bases))
	for i := range sharp {
		sharp[i], flat[i] = make([]float64, len(heights)), make([]float64, len(heights))
		for j := range sharp[i] {
			sharp[i][j] = -1e3
		}
	}
	sharp[1][2] = 0
	base, height := spread(sharp, 0)
	if math.Abs(base-math.Log(bases[3]/bases[0])/3/math.Sqrt(12)) > 1e-9 {
		t.Errorf("a sharp fit leaves %.3f of the base", base)
	}
	wideBase, wideHeight := spread(flat, 0)
	if wideBase < 2*base || wideHeight < 2*height {
		t.Errorf("nothing told leaves %.3f and %.3f, a sharp fit %.3f and %.3f", wideBase, wideHeight, base, height)
	}
}
