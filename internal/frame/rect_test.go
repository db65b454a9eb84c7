// SPDX-License-Identifier: Apache-2.0

package frame

import "testing"

func TestRect(t *testing.T) {
	r := Rect[Board]{Min: Spot[Board]{X: -1, Y: -2}, Max: Spot[Board]{X: 3, Y: 2}}
	if !r.Holds(Spot[Board]{X: 3, Y: -2}) || r.Holds(Spot[Board]{X: 3.01}) {
		t.Error("a corner is held, what lies beyond is not")
	}
	if g := r.With(Spot[Board]{X: 5, Y: 0}); g.Max.X != 5 || g.Min != r.Min || g.Max.Y != 2 {
		t.Errorf("grown to %+v", g)
	}
	if g := r.Inset(3); g.Min != (Spot[Board]{X: 1}) || g.Max != (Spot[Board]{X: 1}) {
		t.Errorf("inset beyond its middle: %+v", g)
	}
	if g := r.Meet(Rect[Board]{Min: Spot[Board]{}, Max: Spot[Board]{X: 9, Y: 1}}); g.Min != (Spot[Board]{}) || g.Max != (Spot[Board]{X: 3, Y: 1}) {
		t.Errorf("in common: %+v", g)
	}
}
