// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"testing"
)

// The field summed over the faces must give the pull of the disc integrals.
func TestLoadAgreesWithForce(t *testing.T) {
	a, b := disc(15, 8, 1.3), disc(8, 3, 1.25)
	for _, g := range []float64{1, 2, 4.9, 15} {
		for _, x := range []float64{0, 2, 6, 11, 30} {
			p := force(t, a, b, g, x)
			l, err := LoadOn(a, b, mm(g), mm(x))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("axial, gap %g offset %g", g, x), l.Axial, p.Axial, 1e-3*force(t, a, b, g, 0).Axial)
			near(t, fmt.Sprintf("lateral, gap %g offset %g", g, x), l.Lateral, p.Lateral, 1e-3*force(t, a, b, g, 0).Axial)
		}
	}
}

// A dipole μ upright at offset x over an upright dipole m feels the moment
// μ·Bx about its own centre: far apart the sum must become that. Moved to the
// lower face it gains the lateral pull times half the thickness.
func TestTipFarApartIsTheDipoles(t *testing.T) {
	a, b := disc(10, 5, 1.3), disc(6, 2, 1.3)
	const g, x = 80, 60
	l, err := LoadOn(a, b, mm(g), mm(x))
	if err != nil {
		t.Fatal(err)
	}
	f := field(t, a, x, g+2.5+1) // at the upper magnet's centre
	// The field points outwards there; the top of the upper magnet turns with it.
	want := -b.Moment()*f.Radial + l.Lateral*1e-3
	near(t, "tip", l.Tip/want, 1, 5e-3)
}

// On the axis nothing tips.
func TestTipOnTheAxis(t *testing.T) {
	l, err := LoadOn(disc(10, 5, 1.3), disc(6, 2, 1.3), mm(4.9), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tip", l.Tip, 0, 1e-12)
}
