// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/sight/pixels"
)

// TestSeenThroughSlats: a window's pane mirrored through slats, rosy and up to the camera's upper
// end, is explained as light, where it came and where it went; a sleeve with the same stripes is not.
func TestSeenThroughSlats(t *testing.T) {
	pane := func(i int) bool { x, y := i%240, i/240; return x > 30 && x < 110 && y > 30 && y < 210 }
	sleeve := func(i int) bool { x, y := i%240, i/240; return x > 140 && x < 215 && y > 30 && y < 210 }
	bright := func(x, y float64) (times, plus float64) { return 0.6, 0 }
	bare, now := lit(table(21), bright), lit(table(22), bright)
	for i := range now.L {
		stripe := 0.65 + 0.35*math.Sin(float64(i/240)*0.9+float64(i%240)*0.15)
		is := linear(now, i)
		switch tint := [3]float64{1, 0.86, 0.9}; {
		case pane(i):
			for j := range is {
				is[j] = min(255, is[j]+float32(190*stripe*tint[j]))
			}
		case sleeve(i):
			for j := range is {
				is[j] = float32(210 * stripe * tint[j])
			}
		}
		r, g, b := logarithm(is[0]), logarithm(is[1]), logarithm(is[2])
		now.L[i], now.A[i], now.B[i] = (r+g+b)/3, r-g, b-g
	}
	for _, c := range []struct {
		name      string
		now, then *pixels.Image
	}{{"came", now, bare}, {"went", bare, now}} {
		cols := now.W / CellSide
		odd := slices.Repeat([]bool{true}, cols*(now.H/CellSide))
		Explained(c.now, c.then, odd)
		var of, left [2]int
		for k, is := range odd {
			i := (k/cols*CellSide+1)*now.W + k%cols*CellSide + 1
			for j, in := range []func(int) bool{pane, sleeve} {
				if in(i) {
					of[j]++
					if is {
						left[j]++
					}
				}
			}
		}
		if float64(left[0]) > 0.05*float64(of[0]) {
			t.Errorf("light that %s: %d of %d cells are not explained", c.name, left[0], of[0])
		}
		if c.name == "came" && float64(left[1]) < 0.9*float64(of[1]) {
			t.Errorf("a striped sleeve: of %d cells only %d are not explained", of[1], left[1])
		}
	}
}
