// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/unit"
)

func testMap(tb testing.TB, r MapRange) (*Map, Cylinder, Cylinder) {
	tb.Helper()
	lower, upper := disc(15, 8, 1.29), disc(8, 3, 1.29)
	m, err := NewMap(lower, upper, r)
	if err != nil {
		tb.Fatal(err)
	}
	return m, lower, upper
}

var usual = MapRange{GapFrom: mm(2), GapTo: mm(40), OffsetTo: mm(80)}

// The map must stay inside its own stated error anywhere, here allowing a
// factor of two over the cell middles it measured.
func TestMapStaysWithinItsStatedError(t *testing.T) {
	for _, r := range []MapRange{usual, {GapFrom: mm(0.5), GapTo: mm(40), OffsetTo: mm(80)}, {GapFrom: mm(4), GapTo: mm(30), OffsetTo: mm(200)}} {
		m, lower, upper := testMap(t, r)
		newton, share := m.Deviation()
		t.Logf("gaps %v–%v: deviation %.3g N, %.3g of the largest pull", r.GapFrom, r.GapTo, newton, share)
		if share > 2e-4 {
			t.Errorf("interpolation error %.2g of the largest pull, want below 2e-4", share)
		}
		const seed = 7
		t.Log("seed", seed)
		rng := rand.New(rand.NewPCG(seed, 0))
		for range 500 {
			g := float64(r.GapFrom) + rng.Float64()*rng.Float64()*float64(r.GapTo-r.GapFrom)
			x := rng.Float64() * rng.Float64() * float64(r.OffsetTo)
			want, err := Force(lower, upper, unit.Length(g), unit.Length(x))
			if err != nil {
				t.Fatal(err)
			}
			got, err := m.At(g, x)
			if err != nil {
				t.Fatal(err)
			}
			if d := max(math.Abs(got.Axial-want.Axial), math.Abs(got.Lateral-want.Lateral)); d > 2*newton+1e-6 {
				t.Fatalf("at gap %g, offset %g: off by %g N, stated %g N", g, x, d, newton)
			}
		}
	}
}

// Pulls are proportional to both remanences (Furlani, Permanent Magnet and Electromechanical
// Devices, force between poles; from memory): a scaled map is the map of the scaled magnets.
func TestScaledMap(t *testing.T) {
	m, lower, upper := testMap(t, usual)
	want, err := NewMap(lower.WithBr(1.17), upper.WithBr(1.4), usual)
	if err != nil {
		t.Fatal(err)
	}
	got := m.Scaled(1.17 * 1.4 / (1.29 * 1.29))
	for _, at := range [][2]float64{{3e-3, 0}, {5e-3, 4e-3}, {8e-3, 20e-3}, {30e-3, -50e-3}} {
		a, _ := want.At(at[0], at[1])
		b, err := got.At(at[0], at[1])
		if err != nil || math.Abs(a.Axial-b.Axial) > 1e-12 || math.Abs(a.Lateral-b.Lateral) > 1e-12 {
			t.Errorf("at %v: %v, computed anew %v (%v)", at, b, a, err)
		}
	}
	_, share := m.Deviation()
	if _, then := got.Deviation(); math.Abs(share-then) > 1e-12 {
		t.Errorf("off by a share of %g, before %g", then, share)
	}
}

func BenchmarkNewMap(b *testing.B) {
	for b.Loop() {
		testMap(b, usual)
	}
}

func BenchmarkMapAt(b *testing.B) {
	m, _, _ := testMap(b, usual)
	b.ReportAllocs()
	x := 0.0
	for b.Loop() {
		x += 1e-5
		if x > 0.08 {
			x = 0
		}
		m.At(0.0049, x)
	}
}

func TestMapEnds(t *testing.T) {
	m, lower, upper := testMap(t, usual)
	for _, at := range [][2]float64{{2, 0}, {40, 0}, {2, 80}, {40, 80}} {
		want := force(t, lower, upper, at[0], at[1])
		got, err := m.At(at[0]*1e-3, at[1]*1e-3)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "axial at the corner", got.Axial, want.Axial, 1e-6)
		near(t, "lateral at the corner", got.Lateral, want.Lateral, 1e-6)
	}
	left, _ := m.At(0.005, -0.006)
	right, _ := m.At(0.005, 0.006)
	if left.Lateral != -right.Lateral || left.Axial != right.Axial {
		t.Errorf("left %v is not the mirror of right %v", left, right)
	}
	for _, at := range [][2]float64{{1.9, 0}, {40.1, 0}, {math.NaN(), 0}} {
		if _, err := m.At(at[0]*1e-3, at[1]*1e-3); err != ErrGap {
			t.Errorf("%v: got %v, want ErrGap", at, err)
		}
	}
	for _, x := range []float64{80.1, -81, math.NaN()} {
		if _, err := m.At(0.005, x*1e-3); err != ErrFar {
			t.Errorf("offset %g mm: got %v, want ErrFar", x, err)
		}
	}
}

func TestMapRefusesBadRanges(t *testing.T) {
	for _, r := range []MapRange{{}, {GapFrom: mm(5), GapTo: mm(2), OffsetTo: mm(10)}, {GapFrom: mm(1), GapTo: mm(2)},
		{GapFrom: mm(-1), GapTo: mm(2), OffsetTo: mm(9)}, {GapFrom: mm(1), GapTo: mm(2), OffsetTo: mm(9), Gaps: 2},
		{GapFrom: mm(1), GapTo: mm(2), OffsetTo: mm(math.NaN())}, {GapFrom: mm(1), GapTo: mm(2), OffsetTo: mm(9), Offsets: 1e9}} {
		if _, err := NewMap(disc(10, 5, 1.3), disc(6, 2, 1.3), r); err == nil {
			t.Errorf("%+v must be refused", r)
		}
	}
}
