// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"testing"

	"boardhand/internal/unit"
)

// Computed independently, Br 1.29 T: axial field averaged over the 0.76 mm
// disc 0.38 mm above the face, largest over the face (SOR/2011-17, Sched. 10).
func TestFluxIndex(t *testing.T) {
	for _, w := range []struct{ d, l, mT, at, index float64 }{
		{3, 1, 277.9, 0, 54.6}, {3, 2, 384.8, 0, 104.7}, {5, 2, 349.2, 0.8, 239}, {6, 3, 401.7, 0.8, 456},
		{8, 3, 368.6, 2.4, 683}, {10, 5, 430.3, 2.7, 1454}, {15, 8, 459.1, 4.7, 3725}, {20, 5, 356.0, 8.3, 3982},
	} {
		name := fmt.Sprintf("D%g×L%g", w.d, w.l)
		b, at, err := FaceField(disc(w.d, w.l, 1.29))
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" mT", b*1e3, w.mT, 0.004*w.mT)
		near(t, name+" at mm", at*1e3, w.at, 0.45) // a flat top: the place is loose
		index, err := FluxIndex(disc(w.d, w.l, 1.29))
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" index", index, w.index, 0.008*w.index)
		half, _ := FluxIndex(disc(w.d, w.l, 1.29/2))
		near(t, name+" index scales with Br²", half*4, index, 1e-6*index)
	}
}

// Computed independently from the field over the two charged discs, Br 1.29 T.
func TestFieldReach(t *testing.T) {
	for _, w := range []struct{ d, l, axis1, axisHalf, side1, sideHalf float64 }{
		{5, 2, 18.93, 24.17, 16.03, 20.14}, {8, 3, 29.69, 37.90, 25.12, 31.55}, {10, 5, 40.51, 51.78, 34.47, 43.34},
		{15, 8, 61.94, 79.21, 52.80, 66.41}, {20, 10, 81.01, 103.55, 68.94, 86.69},
	} {
		c := disc(w.d, w.l, 1.29)
		for level, want := range map[unit.FluxDensity][2]float64{ImplantSwitch: {w.axis1, w.side1}, ImplantQuiet: {w.axisHalf, w.sideHalf}} {
			got, err := FieldReach(c, level)
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("D%g axis %v", w.d, level), got.Axis*1e3, want[0], 0.006)
			near(t, fmt.Sprintf("D%g side %v", w.d, level), got.Side*1e3, want[1], 0.006)
			b, err := OnAxis(c, unit.Length(got.Axis))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "field there", float64(b), float64(level), 1e-6*float64(level)+1e-9)
		}
	}
	if _, err := FieldReach(disc(10, 5, 1.3), 0); err == nil {
		t.Error("level 0 must be refused")
	}
}

// magpylib documentation, "Magnetic Holding Force": a block 5 × 2.5 × 1 mm of
// 1.33 T holds 349 g computed, about 350 g in the catalogue. A disc of the same
// face and thickness holds nearly the same; a block's longer rim a little more.
func TestOnIronAgainstABlock(t *testing.T) {
	d := 2 * 1.9947 // mm: π/4·d² = 12.5 mm²
	got, err := OnIron(disc(d, 1, 1.33), mm(0.0001))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "grams", got/9.80665*1e3, 349, 0.1*349)
	c := disc(10, 5, 1.29)
	p := force(t, c, c, 8, 0)
	got, _ = OnIron(c, mm(4))
	near(t, "image", got, p.Axial, 1e-12)
}
