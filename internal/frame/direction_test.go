// SPDX-License-Identifier: Apache-2.0

package frame

import (
	"math"
	"testing"
)

func TestUnit(t *testing.T) {
	if got := (Spot[Board]{X: 3, Y: -4}).Unit(); math.Abs(got.X-0.6) > 1e-15 || math.Abs(got.Y+0.8) > 1e-15 {
		t.Errorf("direction of (3, -4): %v", got)
	}
	if got := (Spot[Board]{}).Unit(); got != (Spot[Board]{X: 1}) {
		t.Errorf("direction of nothing: %v", got)
	}
}

func TestBetween(t *testing.T) {
	a, b := Point[Board]{1, 2, 3}, Point[Board]{3, 0, 7}
	for share, want := range map[float64]Point[Board]{0: a, 0.5: {2, 1, 5}, 1: b} {
		if got := a.Between(b, share); got != want {
			t.Errorf("%g of the way: %v, want %v", share, got, want)
		}
	}
}
