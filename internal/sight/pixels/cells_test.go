// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"math"
	"testing"
)

// A ramp's cells have the brightness of their middles; the rim that fills no cell is left out.
func TestMeans(t *testing.T) {
	const w, h = 3*CellSide + 2, 2*CellSide + 3
	p := &Image{W: w, H: h, L: make([]float32, w*h), A: make([]float32, w*h), B: make([]float32, w*h)}
	for i := range p.L {
		p.L[i], p.A[i], p.B[i] = float32(i%w), float32(i/w), 7
	}
	got := p.Means()
	for k := range 6 {
		x, y := float64(k%3)*CellSide+1.5, float64(k/3)*CellSide+1.5
		if math.Abs(float64(got[0][k])-x)+math.Abs(float64(got[1][k])-y)+math.Abs(float64(got[2][k])-7) > 1e-5 {
			t.Errorf("cell %d: %g, %g, %g, want %g, %g, 7", k, got[0][k], got[1][k], got[2][k], x, y)
		}
	}
	if len(got[0]) != 6 || p.Means() != got {
		t.Errorf("%d cells, found once: %v", len(got[0]), p.Means() == got)
	}
}
