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
