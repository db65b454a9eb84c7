// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"testing"
)

// number prints a length for povray.
func number(x float64) string { return fmt.Sprintf("%.3f", x) }

// TestStreakKeepsLight: a point becomes a line of the same light.
func TestStreakKeepsLight(t *testing.T) {
	p := picture{w: 21, h: 21, pix: make([]float32, 21*21*3)}
	p.pix[3*(10*21+10)] = 1
	q := streak(p, [2]float64{6, 0})
	sum, lit := 0.0, 0
	for i, v := range q.pix {
		sum += float64(v)
		if v > 0 {
			lit++
			if y := i / 3 / 21; y != 10 {
				t.Errorf("light in row %d", y)
			}
		}
	}
	if math.Abs(sum-1) > 1e-5 || lit < 6 {
		t.Errorf("%g of light on %d pixels", sum, lit)
	}
}
