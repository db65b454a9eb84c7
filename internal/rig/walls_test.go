// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"testing"

	"boardhand/internal/unit"
)

// 400 mm inside are 50 units, 403 mm become 51; walls are two units thick unless they
// are said to be one.
func TestRing(t *testing.T) {
	for _, c := range []struct {
		right, thick float64
		units, deep  int
	}{{200, 6, 50, 2}, {203, 16, 51, 2}, {200, 8, 50, 1}, {200, 0, 50, 2}} {
		w := Default().Walls
		w.Right, w.Thick = unit.MM(c.right), unit.MM(c.thick)
		r, err := w.Ring(nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Inside != [2]int{c.units, 50} || r.Thick != c.deep || r.Full != 10 || r.Plates != 0 {
			t.Errorf("%+v: %+v", c, r.Wall)
		}
	}
}
