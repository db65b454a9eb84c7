// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"math"
	"testing"

	"boardhand/internal/unit"
)

func field(t *testing.T, c Cylinder, rho, z float64) Field {
	t.Helper()
	f := derbyOlbert(c, float64(mm(rho)), float64(mm(z)))
	if math.IsNaN(f.Axial + f.Radial) {
		t.Fatalf("no field at rho %g, z %g mm", rho, z)
	}
	return f
}

// magpylib (Ortner, Coliado Bandeira, SoftwareX 11 (2020) 100466),
// tests/test_fields/test_PMCylinder.py: a cylinder D 2 × L 3, field over Br.
func TestFieldAgainstPublishedValues(t *testing.T) {
	c := disc(2, 3, 1)
	for _, w := range []struct{ rho, z, radial, axial float64 }{
		{0, 0, 0, 0.83205029434},
		{3, 0, 0, -0.0212422746863},
		{3, 1, 0.0153885321015, -0.0157468623254},
	} {
		got := field(t, c, w.rho, w.z)
		near(t, "radial", got.Radial, w.radial, 1e-11)
		near(t, "axial", got.Axial, w.axial, 1e-11)
	}
}

func TestFieldAgainstTable(t *testing.T) {
	c := disc(10, 5, 1.29)
	for _, r := range table(t, "field.txt") {
		at := fmt.Sprintf("rho %g z %g mm", r[0], r[1])
		if r[0] > 0 || r[1] != 2.5 {
			got := field(t, c, r[0], r[1])
			near(t, at+" radial mT", got.Radial*1e3, r[2], 6e-6)
			near(t, at+" axial mT", got.Axial*1e3, r[3], 6e-6)
		}
		if r[0] == 0 {
			got, err := OnAxis(c, mm(r[1]-2.5))
			if err != nil {
				t.Fatal(err)
			}
			near(t, at+" on axis", float64(got)*1e3, r[3], 6e-6)
		}
	}
}

// No magnetic charge in air: what flows into a small ring-shaped box flows out.
func TestFieldHasNoSources(t *testing.T) {
	c := disc(10, 5, 1.29)
	const h = 0.01
	for _, at := range [][2]float64{{3, 4}, {7, 0}, {12, 6}, {6, 2.6}} {
		out, in := field(t, c, at[0]+h, at[1]), field(t, c, at[0]-h, at[1])
		up, down := field(t, c, at[0], at[1]+h), field(t, c, at[0], at[1]-h)
		div := ((at[0]+h)*out.Radial-(at[0]-h)*in.Radial)/(2*h*at[0]) + (up.Axial-down.Axial)/(2*h)
		near(t, fmt.Sprintf("divergence at %v", at), div, 0, 1e-4)
	}
}

// Far off, the field is that of a dipole.
func TestFieldFarOffIsADipole(t *testing.T) {
	c := disc(10, 5, 1.29)
	want := -Mu0 * c.Moment() / (4 * math.Pi * 0.5 * 0.5 * 0.5)
	near(t, "sideways", field(t, c, 500, 0).Axial/want, 1, 1e-3)
}

// The mantle has a value, and it does not jump there: the axial field outside
// and inside differ by what the magnet itself carries.
func TestFieldOnTheMantle(t *testing.T) {
	c := disc(10, 5, 1.29)
	out, on, in := field(t, c, 5.0001, 0).Axial, field(t, c, 5, 0).Axial, field(t, c, 4.9999, 0).Axial
	near(t, "inside less outside", in-out, 1.29, 1e-3)
	near(t, "on the mantle", on, (in+out)/2, 1e-3)
}

func TestGradeAgainstEnergyProduct(t *testing.T) {
	for name, want := range map[string]float64{"N35": 1.1832, "N38": 1.2329, "N40": 1.2649, "N42": 1.2961,
		"N45": 1.3416, "N48": 1.3856, "N50": 1.4142, "N52": 1.4422} { // magcode, testgrades01.m
		lo, hi, err := Grade(name)
		if err != nil {
			t.Fatal(err)
		}
		if float64(lo) > want || float64(hi) < want {
			t.Errorf("%s: %v–%v does not hold %g", name, lo, hi, want)
		}
	}
}

func TestGradeReadsRemanence(t *testing.T) {
	for text, want := range map[string][2]float64{"1.29T": {1.29, 1.29}, " 1290 mT ": {1.29, 1.29},
		"n42": {1.28, 1.32}, "N42SH": {1.28, 1.32}, "N42 H": {1.28, 1.32}, "n52m": {1.42, 1.48}, "1.28-1.32 T": {1.28, 1.32}, "1.28 T–1.32 T": {1.28, 1.32}} {
		lo, hi, err := Grade(text)
		if err != nil || math.Abs(float64(lo)-want[0]) > 1e-12 || math.Abs(float64(hi)-want[1]) > 1e-12 {
			t.Errorf("%q: got %v %v %v", text, lo, hi, err)
		}
	}
	for _, bad := range []string{"", "N43", "1.29", "-1 T", "3 T", "1.3-1.2 T", "NaN T", "N", "T", "-", "H", "N43SH", "NSH"} {
		if lo, hi, err := Grade(bad); err == nil {
			t.Errorf("%q: got %v %v, want an error", bad, lo, hi)
		}
	}
}

func FuzzGrade(f *testing.F) {
	for _, s := range []string{"N42", "1.29 T", "1.28-1.32 T", "", "-", "1e300 T"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		lo, hi, err := Grade(s)
		if err == nil && !(lo > 0 && lo <= hi && hi <= unit.FluxDensity(mostBr)) {
			t.Errorf("%q: %v %v", s, lo, hi)
		}
	})
}
