// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"testing"
)

// TestWindowThrowsBars: behind a pane's middle the sun is seen, behind a bar
// and the wall it is not, and the edge is as soft as the sun's disc makes it.
func TestWindowThrowsBars(t *testing.T) {
	w := window{middle: vec{1000, 0, 1000}, out: vec{1, 0, 0}, side: vec{0, 1, 0}, panes: [2]int{2, 2}, wide: 300, high: 400, bar: 60,
		sun: vec{6000, 0, 6000}, disc: 0.0093}
	// The ray from (0, y, 0) to the sun crosses the window near (y, 0) from its
	// middle; a pane's middle is half a pane and half a bar away.
	cases := []struct {
		u, v float64
		want float64
	}{{0, 0, 0}, {180, 230, 1}, {-180, 230, 1}, {180, 0, 0}, {0, 230, 0}, {400, 230, 0}}
	for _, c := range cases {
		if got := w.open(vec{0, 0, 0}, [2]float64{c.u, c.v}); got != c.want {
			t.Errorf("%g, %g from the middle: %.2f, want %g", c.u, c.v, got, c.want)
		}
	}
	soft := math.Sqrt2 * 1000 * w.disc
	if got := w.open(vec{}, [2]float64{30 + soft/4, 230}); math.Abs(got-0.75) > 0.02 {
		t.Errorf("a quarter of the penumbra inside the pane: %.3f, want 0.75", got)
	}
}
