// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Without a magnet a piece tips when the base's radius over the height of its
// centre of mass is below a/g: textbook statics.
func TestTipWithoutPull(t *testing.T) {
	f := Figure{Mass: unit.Grams(14), Base: unit.MM(15), Balance: unit.MM(20), Recess: unit.MM(0.4)}
	none := Pair{disc(10, 5, 0), disc(6, 2, 1.3)}
	got, err := f.Tip(none, unit.MM(4.9), 0, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "base mm", got.Least.MM(), 2*20*2/Gravity, 1e-9)
}

// A pull that grows with the pair needs a larger share of the base, and on the
// axis none at all.
func TestTipGrowsWithTheOffset(t *testing.T) {
	f := Figure{Mass: unit.Grams(14), Base: unit.MM(15), Balance: unit.MM(20), Recess: unit.MM(0.4)}
	p := Pair{disc(10, 5, 1.3), disc(6, 2, 1.3)}
	last := unit.Length(-1)
	for _, most := range []float64{0, 1, 2, 4, 6} {
		got, err := f.Tip(p, unit.MM(4.9), unit.MM(most), 0)
		if err != nil {
			t.Fatal(err)
		}
		if got.Least < last {
			t.Errorf("offset %g mm: least base %v is below %v", most, got.Least, last)
		}
		last = got.Least
		t.Logf("up to %g mm: least base %v at %v", most, got.Least, got.Offset)
	}
	if got, _ := f.Tip(p, unit.MM(4.9), 0, 0); got.Least > unit.MM(1e-6) {
		t.Errorf("on the axis: got %v", got.Least)
	}
	// The same balance with the forces of the disc integrals and the moment of
	// the sum over the faces.
	l, err := magnet.LoadOn(p.Lower, p.Upper, unit.MM(4.9), unit.MM(6))
	if err != nil {
		t.Fatal(err)
	}
	pull, _ := p.At(0.0049, 0.006)
	want := 2 * math.Abs(l.Tip+pull.Lateral*0.0004) / (0.014*Gravity + pull.Axial)
	near(t, "least base mm", last.MM(), want*1e3, 0.02*want*1e3)
}

func TestApart(t *testing.T) {
	a := disc(6, 2, 1.3)
	d, err := Apart(a, a, unit.Grams(4), 0.3)
	if err != nil {
		t.Fatal(err)
	}
	f, err := magnet.SideBySide(a, a, d)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "repulsion there", f, 0.3*0.004*Gravity, 1e-5)
	// Far apart the dipoles' r⁻⁴ law gives the distance: 3μ0m²/(4πr⁴) = μmg.
	d, err = Apart(a, a, unit.Grams(0.01), 0.3)
	if err != nil {
		t.Fatal(err)
	}
	want := math.Pow(3*magnet.Mu0*a.Moment()*a.Moment()/(4*math.Pi*0.3*1e-5*Gravity), 0.25)
	near(t, "dipoles' distance mm", d.MM(), want*1e3, 0.005*want*1e3)
	for _, bad := range []float64{0, -1, math.NaN()} {
		if _, err := Apart(a, a, unit.Mass(bad), 0.3); err == nil {
			t.Errorf("mass %g must be refused", bad)
		}
	}
	if d, err := Apart(disc(2, 1, 1.2), disc(2, 1, 1.2), unit.Grams(200), 0.5); err != nil || d > unit.MM(2.01) {
		t.Errorf("weak and heavy: got %v %v, want touching", d, err)
	}
}
