// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// The spread holds what every grade and every place of the warp can give: the
// force at its corners is that of magnets at the ends of their grades.
func TestSpreadIsThatOfTheGrades(t *testing.T) {
	r := rig.Default()
	c, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	lower, err := ends(r.Lift.Grade)
	if err != nil {
		t.Fatal(err)
	}
	upper, err := ends(r.Pieces.Magnet.Grade)
	if err != nil {
		t.Fatal(err)
	}
	for i, times := range []float64{c.Spread.Weak, c.Spread.Strong} {
		for _, gap := range []unit.Length{c.Spread.Near, c.Spread.Far} {
			p, err := c.Pull.At(float64(gap), 4e-3)
			if err != nil {
				t.Fatal(err)
			}
			want, err := magnet.Force(c.Pair.Lower.WithBr(lower[i]), c.Pair.Upper.WithBr(upper[i]), gap, unit.MM(4))
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(times*p.Lateral-want.Lateral) > 1e-9*math.Abs(want.Lateral) {
				t.Errorf("lateral pull at gap %v: %g N, want %g N", gap, times*p.Lateral, want.Lateral)
			}
		}
	}
	if c.Spread.Near != r.Gap() || c.Spread.Far != r.Gap() {
		t.Errorf("the gap spreads from %v to %v over a warp that the spring follows, want %v", c.Spread.Near, c.Spread.Far, r.Gap())
	}
	if near, far := Bowed(r, r.Lift.Drop); math.Abs(float64(far-near-r.Board.Warp)) > 1e-12 || math.Abs(float64((near+far)/2-r.Gap()-r.Lift.Drop)) > 1e-12 {
		t.Errorf("lowered the gap spreads from %v to %v over a warp of %v", near, far, r.Board.Warp)
	}
}

func ends(grade string) ([2]unit.FluxDensity, error) {
	lo, hi, err := magnet.Grade(grade)
	return [2]unit.FluxDensity{lo, hi}, err
}

// What a piece pulls back with, put together by hand from the force law.
func TestTowedAgainstTheForceLaw(t *testing.T) {
	r := rig.Default()
	c, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	const a = 0.4 // m/s²
	got, err := c.Towed(a)
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Pair.At(float64(r.Gap()), 0)
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0
	for _, k := range game.ChessKinds.All() {
		m := float64(r.Pieces.Of(k).Mass)
		want = max(want, r.Board.Friction*(m*9.80665+p.Axial*c.Spread.Strong)+m*a)
	}
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%g N, want %g N", got, want)
	}
}

// The extremes are found, and one kind is given where all weigh the same.
func TestExtremes(t *testing.T) {
	r := rig.Default()
	for i, k := range game.ChessKinds.All() {
		r.Pieces.Of(k).Mass = unit.Grams(10 + float64(i))
	}
	c, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Extremes(); len(got) != 2 || got[0] != game.King || got[1] != game.Pawn {
		t.Errorf("%v", got)
	}
	for _, k := range game.ChessKinds.All() {
		r.Pieces.Of(k).Mass = unit.Grams(10)
	}
	if got := c.Extremes(); len(got) != 1 {
		t.Errorf("%v", got)
	}
}

// A bad grade is named by its key.
func TestBadGrades(t *testing.T) {
	for _, spoil := range []func(*rig.Rig){func(r *rig.Rig) { r.Lift.Grade = "X1" }, func(r *rig.Rig) { r.Pieces.Magnet.Grade = "X1" }} {
		r := rig.Default()
		spoil(r)
		if _, err := Of(r); err == nil {
			t.Error("a grade that there is not is taken")
		}
	}
}
