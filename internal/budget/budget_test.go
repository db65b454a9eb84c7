// SPDX-License-Identifier: Apache-2.0

package budget

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// A hundred thousand draws have the standard deviation that the GUM gives the shape, and
// a normal one the tails of the table of the normal distribution (NIST/SEMATECH e-Handbook
// of Statistical Methods, 1.3.6.7.1: 0.1587, 0.0228, 0.00135 beyond 1, 2, 3 standard deviations).
func TestDrawsHaveTheirShape(t *testing.T) {
	const n = 100_000
	for _, shape := range []Shape{Normal, Uniform, Triangular} {
		tol := Tolerance{Within: 0.2, Shape: shape, IsLength: true}
		chance := rand.New(rand.NewPCG(1, 2))
		var sum, squares float64
		var beyond [4]int
		for range n {
			d := tol.Draw(chance)
			sum, squares = sum+d, squares+d*d
			for k := 1; k <= 3; k++ {
				if d > float64(k)*tol.Sigma() {
					beyond[k]++
				}
			}
		}
		if got := math.Sqrt(squares/n - sum/n*sum/n); math.Abs(got/tol.Sigma()-1) > 0.01 {
			t.Errorf("%s: standard deviation %.4f, want %.4f", shape, got, tol.Sigma())
		}
		if shape != Normal {
			continue
		}
		for k, want := range map[int]float64{1: 0.1587, 2: 0.0228, 3: 0.00135} {
			got := float64(beyond[k]) / n
			if off := 4 * math.Sqrt(want/n); math.Abs(got-want) > off {
				t.Errorf("beyond %d standard deviations: %.5f, want %.5f ± %.5f", k, got, want, off)
			}
		}
	}
}

// The rig file counts before what was measured, that before what is usual, and each says
// where it is from.
func TestWhoIsBelieved(t *testing.T) {
	r := rig.Default()
	b, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	// ±0.1 mm left of 0.4 mm of backlash, ±0.07 mm of a count of 50.265 mm/360
	if got := b[Placement]; math.Abs(got.Within-math.Hypot(0.5, 0.12199)*1e-3) > 1e-6 || !strings.Contains(got.Source, "common practice") {
		t.Errorf("usual: %+v", got)
	}
	// N42 is 1.28–1.32 T: ± 1.54 % about its middle
	if got := b[RemanenceLift]; math.Abs(got.Within-0.02/1.30) > 1e-9 {
		t.Errorf("remanence: %+v", got)
	}
	f := &measured.File{Axes: &measured.Axes{When: "2026-01-02", Scale: [2]float64{1, 1}, Centre: [2]unit.Length{r.Axis.X.Origin, r.Axis.Y.Origin},
		RMS: unit.MM(0.1), CentreSigma: [2]unit.Length{unit.MM(0.05), unit.MM(0.02)}}}
	if _, err := f.AsBuilt(r); err != nil {
		t.Fatal(err)
	}
	if b, err = Of(r); err != nil {
		t.Fatal(err)
	}
	if p, q := b[Placement], b[Field]; p.Within != 0.2e-3 || q.Within != 0.1e-3 || q.Shape != Normal || !strings.Contains(p.Source, "2026-01-02") {
		t.Errorf("measured: %+v, %+v", p, q)
	}
	text := rig.DefaultText + "\n[tolerance]\nplacement = { within = \"0.8 mm\", shape = \"uniform\", source = \"gauge\" }\nfriction = { within = 0.1 }\n"
	if r, err = rig.Parse("rig.toml", []byte(text), rig.Machine); err != nil {
		t.Fatal(err)
	}
	if _, err := f.AsBuilt(r); err != nil {
		t.Fatal(err)
	}
	if b, err = Of(r); err != nil {
		t.Fatal(err)
	}
	if p, q := b[Placement], b[Friction]; p.Within != 0.8e-3 || p.Shape != Uniform || p.Source != "gauge" || q.Within != 0.1 || q.Shape != Normal || q.Source != "rig file" {
		t.Errorf("given: %+v, %+v", p, q)
	}
}

// What is wrong in the table is answered with line, key and what is allowed.
func TestBadTolerances(t *testing.T) {
	for text, want := range map[string]string{
		`placement = { within = 0.5 }`:            "has no unit",
		`placement = { within = "50 mm" }`:        "tolerance.placement.within must be 0 mm to 10 mm",
		`friction = { within = 3 }`:               "tolerance.friction.within must be 0 to 0.5",
		`mass = { within = 0.1, shape = "bell" }`: `tolerance.mass.shape must be one of "normal", "uniform", "triangular"`,
		`wobble = { within = 0.1 }`:               "unknown key tolerance.wobble",
	} {
		_, err := rig.Parse("rig.toml", []byte(rig.DefaultText+"\n[tolerance]\n"+text+"\n"), rig.Machine)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q", text, err, want)
		}
	}
}
