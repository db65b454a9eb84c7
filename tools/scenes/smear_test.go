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

// TestUncoveredKeepsTheShade: under a hand that is taken away lies the board
// in the light that is left around the hand.
func TestUncoveredKeepsTheShade(t *testing.T) {
	const w, h = 60, 60
	blank := func(v float32) picture {
		p := picture{w: w, h: h, pix: make([]float32, w*h*3)}
		for i := range p.pix {
			p.pix[i] = v
		}
		return p
	}
	r := &darkroom{plain: blank(0.8)}
	now, cover := blank(0.4), blank(0) // a hand's shadow lies on all of it
	for i := range now.pix {
		if x, y := i/3%w, i/3/w; x > 25 && x < 35 && y > 25 && y < 35 {
			now.pix[i], cover.pix[i] = 0.9, 1
		}
	}
	for i, v := range r.uncovered(now, cover).pix {
		if math.Abs(float64(v)-0.4) > 1e-3 {
			t.Fatalf("value %d is %.3f, want 0.4", i, v)
		}
	}
}
