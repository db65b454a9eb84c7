// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/unit"
)

// W. Robertson, B. Cazzolato, A. Zander, magcode, matlab/testsuite/testcyl01.m.
func TestForceAgainstPublishedCoaxialValues(t *testing.T) {
	for _, c := range []struct {
		a, b      Cylinder
		gap, want float64
	}{
		{disc(40, 40, 1.3), disc(40, 40, 1.3), 10, 265.537},
		{disc(40, 40, 1.3), disc(30, 30, 1.3), 15, 111.490},
		{disc(40, 20, 1.3), disc(40, 10, 1.3), 35, 18.953},
	} {
		near(t, "coaxial", force(t, c.a, c.b, c.gap, 0).Axial, c.want, 0.0005)
	}
}

func TestForceAgainstAxialTable(t *testing.T) {
	a, b, c := disc(10, 5, 1.29), disc(15, 8, 1.29), disc(8, 3, 1.29)
	for _, r := range table(t, "axial.txt") {
		at := fmt.Sprintf("gap %g mm", r[0])
		near(t, at, force(t, a, a, r[0], 0).Axial, r[1], printed*3) // at 0.1 mm the methods differ most
		near(t, at, force(t, b, c, r[0], 0).Axial, r[2], printed)
		near(t, at+" dipoles", Dipoles(a, a, (r[0]+5)*1e-3), r[3], printed)
		near(t, at+" dipoles", Dipoles(b, c, (r[0]+5.5)*1e-3), r[4], printed)
	}
}

// The pair of each lateral table.
var lateral = []struct {
	name         string
	lower, upper Cylinder
}{
	{"equal.txt", disc(10, 5, 1.29), disc(10, 5, 1.29)},
	{"unequal.txt", disc(15, 8, 1.29), disc(8, 3, 1.29)},
}

func TestForceAgainstLateralTables(t *testing.T) {
	for _, p := range lateral {
		for _, r := range table(t, "lateral-"+p.name) {
			for i, gap := range []float64{2, 4, 6, 8} {
				at := fmt.Sprintf("%s gap %g offset %g mm", p.name, gap, r[0])
				got := force(t, p.lower, p.upper, gap, r[0])
				near(t, at+" lateral", got.Lateral, r[1+2*i], printed)
				near(t, at+" axial", got.Axial, r[2+2*i], printed)
			}
		}
	}
}

func TestForceAgainstPeaks(t *testing.T) {
	for _, p := range lateral {
		for _, r := range table(t, "peaks-"+p.name) {
			at := fmt.Sprintf("%s gap %g mm", p.name, r[0])
			near(t, at+" largest", force(t, p.lower, p.upper, r[0], r[2]).Lateral, r[1], printed)
			left, right := force(t, p.lower, p.upper, r[0], r[2]-0.1), force(t, p.lower, p.upper, r[0], r[2]+0.1)
			if max(left.Lateral, right.Lateral) > r[1] {
				t.Errorf("%s: the pull beside the peak is larger", at)
			}
			near(t, at+" axial zero", force(t, p.lower, p.upper, r[0], r[3]).Axial, 0, 5e-4)
			near(t, at+" lateral zero", force(t, p.lower, p.upper, r[0], r[4]).Lateral, 0, 5e-5)
			near(t, at+" stiffness", force(t, p.lower, p.upper, r[0], 0.001).Lateral/1e-6, r[5], 2e-5*r[5])
		}
	}
}

// bessel is the other route: the integral of Vokoun et al., J. Magn. Magn.
// Mater. 321 (2009) 3758, by brute force.
func bessel(a, b Cylinder, g, x float64) Pull {
	r1, r2, l1, l2 := a.Radius(), b.Radius(), float64(a.Thickness), float64(b.Thickness)
	c := math.Pi * float64(a.Br) * float64(b.Br) * r1 * r2 / Mu0
	end := 38 / g // where exp(−qg) is 1e-16
	n := int(end*(r1+r2+x+g)/0.5) + 1
	var out Pull
	for i := range n {
		for k, u := range rules[12].node {
			q := end * (float64(i) + (u+1)/2) / float64(n)
			e := math.Exp(-q*g) - math.Exp(-q*(g+l1)) - math.Exp(-q*(g+l2)) + math.Exp(-q*(g+l1+l2))
			w := rules[12].weight[k] * math.J1(q*r1) * math.J1(q*r2) / q * e * end / float64(n) / 2
			out.Axial += c * w * math.J0(q*x)
			out.Lateral += c * w * math.J1(q*x)
		}
	}
	return out
}

// promised is the accuracy Force states: 1e-4 relative, 1e-6 N at least.
func promised(p Pull) float64 { return max(1e-4*math.Hypot(p.Axial, p.Lateral), 1e-6) }

func TestForceAgainstBesselAtRandomSizes(t *testing.T) {
	const seed = 11
	t.Log("seed", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	worst := 0.0
	for range 60 {
		a := disc(2+38*rng.Float64(), 1+20*rng.Float64(), 1.3)
		b := disc(2+20*rng.Float64(), 1+10*rng.Float64(), 1.1)
		g, x := 0.5*math.Pow(80, rng.Float64()), 80*rng.Float64()*rng.Float64()
		want, got := bessel(a, b, g*1e-3, x*1e-3), force(t, a, b, g, x)
		d := max(math.Abs(got.Axial-want.Axial), math.Abs(got.Lateral-want.Lateral))
		worst = max(worst, d/promised(want))
		if d > promised(want) {
			t.Errorf("%v over %v, gap %g, offset %g: got %v, want %v", b, a, g, x, got, want)
		}
	}
	t.Logf("worst error: %.2g of what is promised", worst)
}

// Offsets where the integrand's corners and its peak fall together.
func TestForceNearTheCornersOfTheIntegrand(t *testing.T) {
	a, b := disc(15, 8, 1.3), disc(8, 3, 1.3)
	for _, x := range []float64{0, 1e-6, 0.01, 3.5, 3.49, 3.6, 7.5, 11.5, 11.49, 11.6, 12} {
		for _, g := range []float64{0.5, 1} {
			want, got := bessel(a, b, g*1e-3, x*1e-3), force(t, a, b, g, x)
			near(t, fmt.Sprintf("axial, gap %g offset %g", g, x), got.Axial, want.Axial, promised(want))
			near(t, fmt.Sprintf("lateral, gap %g offset %g", g, x), got.Lateral, want.Lateral, promised(want))
		}
	}
}

// Twice the nodes must change nothing that is promised.
func TestForceHasEnoughNodes(t *testing.T) {
	a, b := disc(30, 10, 1.4), disc(12, 3, 1.4)
	worst := 0.0
	for _, g := range []float64{0.5, 1, 2, 5, 15, 40} {
		for x := 0.0; x <= 80; x += 1.25 {
			p := stacked(a, b, g*1e-3)
			out, up := p.pull(x*1e-3, g*1e-3)
			fine := [2]float64{}
			for _, f := range p.face[:p.faces] { // each face by itself, with its own stretch
				q := p
				q.face[0], q.faces = f, 1
				o, u := q.pull(x*1e-3, min(f.h, g*1e-3)/3)
				fine[0] += o
				fine[1] += u
			}
			d := max(math.Abs(out-fine[0]), math.Abs(up-fine[1])) / promised(Pull{up, out})
			worst = max(worst, d)
		}
	}
	t.Logf("worst change: %.2g of what is promised", worst)
	if worst > 0.2 {
		t.Errorf("more nodes change the force by %.2g of what is promised, want below 0.2", worst)
	}
}

func TestForceFarApartIsTheDipoles(t *testing.T) {
	a, b := disc(10, 5, 1.29), disc(8, 3, 1.29)
	near(t, "ratio", force(t, a, b, 400, 0).Axial/Dipoles(a, b, 0.404), 1, 2e-3)
}

func TestForceAtContactOfLongMagnets(t *testing.T) {
	for _, r := range table(t, "contact.txt") {
		a := disc(10, r[0], 1.29)
		near(t, fmt.Sprintf("L %g", r[0]), force(t, a, a, 0.0001, 0).Axial, r[1], 2e-5*r[1])
		limit := 1.29 * 1.29 * math.Pi * a.Radius() * a.Radius() / (2 * Mu0) // Maxwell stress, textbook
		near(t, "Br²A/(2μ0)", limit, r[2], printed)
	}
}

func TestForceIsTheSlopeOfEnergy(t *testing.T) {
	a, b := disc(15, 8, 1.3), disc(8, 3, 1.25)
	energy := func(g, x float64) float64 {
		e, err := Energy(a, b, mm(g), mm(x))
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	const h = 0.02 // mm; its square times the third slope is below 1e-4 of the force
	for _, g := range []float64{1, 4.9, 20} {
		for _, x := range []float64{0, 2, 6, 12, 30} {
			got := force(t, a, b, g, x)
			near(t, fmt.Sprintf("axial %g %g", g, x), got.Axial, (energy(g+h, x)-energy(g-h, x))/(2*h*1e-3), 3*promised(got))
			if x > 0 {
				near(t, fmt.Sprintf("lateral %g %g", g, x), got.Lateral, (energy(g, x+h)-energy(g, x-h))/(2*h*1e-3), 3*promised(got))
			}
		}
	}
	near(t, "energy far apart", energy(500, 900), 0, 1e-6)
}

func TestForceActionIsReaction(t *testing.T) {
	a, b := disc(15, 8, 1.3), disc(6, 2, 1.2)
	for _, x := range []float64{0, 3, 9, 40} {
		p, q := force(t, a, b, 4, x), force(t, b, a, 4, x)
		near(t, "axial", p.Axial, q.Axial, promised(p)/10)
		near(t, "lateral", p.Lateral, q.Lateral, promised(p)/10)
	}
}

// All lengths times k: forces times k². Br times k: forces times k².
func TestForceScales(t *testing.T) {
	p := force(t, disc(10, 5, 1.2), disc(6, 2, 1.2), 4, 5)
	q := force(t, disc(20, 10, 1.2), disc(12, 4, 1.2), 8, 10)
	near(t, "size, axial", q.Axial, 4*p.Axial, 1e-9)
	near(t, "size, lateral", q.Lateral, 4*p.Lateral, 1e-9)
	r := force(t, disc(10, 5, 0.6), disc(6, 2, 1.2), 4, 5)
	near(t, "remanence", 2*r.Lateral, p.Lateral, 1e-12)
	r = force(t, disc(10, 5, -1.2), disc(6, 2, 1.2), 4, 5)
	near(t, "turned over", -r.Axial, p.Axial, 1e-12)
}

func TestForceRefusesWhatItCannotDo(t *testing.T) {
	good := disc(10, 5, 1.3)
	for _, c := range []struct {
		a       Cylinder
		gap, at float64
	}{
		{disc(0, 5, 1.3), 4, 0}, {disc(10, -1, 1.3), 4, 0}, {disc(10, 5, 3), 4, 0},
		{disc(math.NaN(), 5, 1), 4, 0}, {disc(10, 5, math.NaN()), 4, 0},
		{good, 0, 0}, {good, -1, 0}, {good, math.NaN(), 0}, {good, 4, -1}, {good, 4, math.Inf(1)},
	} {
		if p, err := Force(c.a, good, mm(c.gap), mm(c.at)); err == nil {
			t.Errorf("%v gap %g offset %g: got %v, want an error", c.a, c.gap, c.at, p)
		}
	}
}

func TestSideBySide(t *testing.T) {
	for _, r := range table(t, "side.txt") {
		for i, c := range []Cylinder{disc(10, 5, 1.29), disc(8, 3, 1.29)} {
			got, err := SideBySide(c, c, mm(r[0]))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("centres %g mm", r[0]), got, r[1+2*i], 2e-6)
			z := r[0] * 1e-3
			near(t, "dipole", Dipoles(c, c, z)/2, r[2+2*i], 6e-7)
		}
	}
	a, b := disc(12, 5, 1.3), disc(6, 2, 1.2)
	p, _ := SideBySide(a, b, mm(14))
	q, _ := SideBySide(b, a, mm(14))
	near(t, "symmetry", p, q, 1e-6)
	if _, err := SideBySide(a, b, mm(9)); err == nil {
		t.Error("touching magnets must be refused")
	}
	if f, err := SideBySide(a, b, unit.Length(a.Radius()+b.Radius())*1.00001); err != nil || !(f > p) {
		t.Errorf("nearly touching: got %v, %v", f, err)
	}
}

// Meeker-style check of the integrals themselves: DLMF 19.2 values at k² = 1/2.
func TestElliptic(t *testing.T) {
	k, e, d := elliptic(0.5, 0.5)
	near(t, "K(½)", k, 1.8540746773013719, 1e-15)
	near(t, "E(½)", e, 1.3506438810476755, 1e-15)
	near(t, "D(½)", d, (1.8540746773013719-1.3506438810476755)/0.5, 1e-14)
	k, e, d = elliptic(0, 1)
	near(t, "K(0)", k, math.Pi/2, 1e-15)
	near(t, "E(0)", e, math.Pi/2, 1e-15)
	near(t, "D(0)", d, math.Pi/4, 1e-15)
}

func BenchmarkForce(b *testing.B) {
	for _, c := range []struct {
		name    string
		a, b    Cylinder
		gap, at float64
	}{
		{"usual", disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 5},
		{"close", disc(15, 8, 1.3), disc(8, 3, 1.3), 0.5, 5},
		{"far", disc(15, 8, 1.3), disc(8, 3, 1.3), 20, 80},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				Force(c.a, c.b, mm(c.gap), mm(c.at))
			}
		})
	}
}

func ExampleForce() {
	drive := Cylinder{unit.MM(10), unit.MM(5), 1.29}
	foot := Cylinder{unit.MM(6), unit.MM(2), 1.29}
	p, err := Force(drive, foot, unit.MM(4.9), unit.MM(4))
	if err != nil {
		fmt.Println(err)
	}
	fmt.Printf("pulled together with %.3f N, back to the axis with %.3f N\n", p.Axial, p.Lateral)
	// Output: pulled together with 0.787 N, back to the axis with 0.636 N
}
