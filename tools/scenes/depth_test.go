// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"testing"
)

// TestDepths: through a pixel, the place that its depth tells is on the board,
// on the table, or on a piece that stands there.
func TestDepths(t *testing.T) {
	name := "roomt01"
	s, shots, err := planSession(diceFor(name), options{}, name)
	if err != nil {
		t.Fatal(err)
	}
	st := &studio{s: s, sheet: sheetFor(s.view.lens, 0.4)}
	sh := shots[0]
	z := st.depths(sh)
	e := sh.view.eye()
	at := func(p vec) vec {
		c := sh.view.pose.Apply(framePoint(p))
		x, y := st.sheet.at(c.X/c.Z, c.Y/c.Z)
		i, j := int(x+0.5), int(y+0.5)
		return vec{e.X, e.Y, e.Z}.along(st.ray(sh.view, i, j), float64(z[j*st.sheet.w+i]))
	}
	pixel := s.view.eye().Z / st.sheet.f // mm
	for _, m := range sh.pieces {
		shape := s.pieces.of[m.piece.Kind()]
		if p := at(vec{m.x, m.y, m.z + 0.8*shape.height}); p[2] < m.z+0.3*shape.height || math.Hypot(p[0]-m.x, p[1]-m.y) > shape.base/2+2*pixel {
			t.Errorf("%v at %.0f, %.0f: seen at %v", m.piece, m.x, m.y, p)
		}
	}
	for _, p := range []vec{{0, 0, 0}, {s.square, 0, 0}} {
		if q := at(p); math.Hypot(q[0]-p[0], q[1]-p[1]) > 2*pixel || math.Abs(q[2]) > 1e-2 {
			t.Errorf("%v on the board is seen at %v", p, q)
		}
	}
}
