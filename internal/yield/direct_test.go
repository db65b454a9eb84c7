// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// modelOf is the model of the built-in rig with a change.
func modelOf(t *testing.T, change func(*rig.Rig)) *Model {
	t.Helper()
	r := rig.Default()
	if change != nil {
		change(r)
	}
	b, err := budget.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Of(r, b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// otherRigs are machines of other sizes, magnets and frictions, some near their limits.
var otherRigs = map[string]func(*rig.Rig){
	"as written": nil,
	"thick":      func(r *rig.Rig) { r.Board.Thickness = unit.MM(7) },
	"slippery":   func(r *rig.Rig) { r.Board.Friction, r.Board.Kinetic = 0.16, 0.11 },
	"strong": func(r *rig.Rig) {
		r.Lift.Diameter, r.Lift.Thickness, r.Lift.Grade = unit.MM(12), unit.MM(5), "N48"
		r.Board.Square, r.Lift.Drop = unit.MM(45), unit.MM(18)
	},
	"both": func(r *rig.Rig) { r.Pieces.Carried = "both"; r.Board.Warp = unit.MM(1.2) },
}

func BenchmarkBuilds(b *testing.B) {
	r := rig.Default()
	of, err := budget.Of(r)
	if err != nil {
		b.Fatal(err)
	}
	m, err := Of(r, of)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := m.draw(context.Background(), Options{Builds: 1000, Seed: 1, Workers: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// A build judged here is judged as assess judges a rig file into which the build was
// written: that is the direct way, which takes hundreds of times as long. The largest
// difference allowed is what the sampled pull is off: 0.3 % of the line's value or limit.
func TestAgainstTheDirectWay(t *testing.T) {
	for name, change := range otherRigs {
		m := modelOf(t, change)
		chance := rand.New(rand.NewPCG(7, 7))
		for range 2 {
			x, r := drawn(m, chance)
			b := bench{Model: m}
			got := b.margins(x, nil2(m))
			for _, c := range assess.Judge(r) {
				i := slices.Index(directLines[:], c.ID)
				if i < 0 || !c.Applies() {
					continue
				}
				want, ok := asHere(m, i, c)
				if off := math.Abs(got[i] - want); ok && !(off <= 3e-3*max(math.Abs(c.Value), math.Abs(c.Limit))+0.02) {
					t.Errorf("%s, %s: margin %.4f %s, directly %.4f", name, c.ID, got[i], m.units[i], want)
				}
			}
		}
	}
}

func nil2(m *Model) []float64 { return make([]float64, direct, len(m.ids)) }

// drawn is a build, all pieces alike, and the rig file that describes it.
func drawn(m *Model, chance *rand.Rand) (*build, *rig.Rig) {
	x := &build{pieces: slices.Clone(m.pieces)}
	r := m.middle()
	put := func(k budget.Key) float64 {
		d := m.budget[k].Draw(chance)
		x.set(&m.budget, int(k), d)
		return d
	}
	friction := (1 + put(budget.Friction)) * (1 + put(budget.Pads))
	r.Board.Friction, r.Board.Kinetic = r.Board.Friction*friction, r.Board.Kinetic*friction
	r.Board.Thickness += unit.Length(put(budget.Gap))
	r.Lift.Grade = stronger(r.Lift.Grade, put(budget.RemanenceLift))
	r.Pieces.Magnet.Grade = stronger(r.Pieces.Magnet.Grade, put(budget.RemanencePieces))
	mass, base := put(budget.Mass), put(budget.Base)
	for _, k := range r.Pieces.Kinds().All() {
		p := r.Pieces.Of(k)
		p.Mass *= unit.Mass(1 + mass)
		p.Base += unit.Length(base)
	}
	return x, r
}

// asHere is the margin of a line of assess without the errors of placement and camera,
// which assess adds as constants and which this build has none of; false for a line that
// goes by a plan this build was not made for, or by another unit.
func asHere(_ *Model, i int, c assess.Check) (float64, bool) {
	switch i {
	case hold, slip, surge:
		return c.AsDrawn(), true
	case raised, feet:
		return c.AsDrawn() + 1.012, true // the carriage's place, 0.512 mm with play and counts, and the camera's doubt
	case tip:
		return c.AsDrawn(), c.AsDrawn() > 0
	case lowered:
		return 0, false
	}
	return 0, false
}

// The lowered magnet drags a piece of a build exactly where assess says that the drop is
// too little.
func TestLoweredAgainstTheLeastDrop(t *testing.T) {
	for _, drop := range []float64{8, 9.5, 10.5, 14} {
		m := modelOf(t, func(r *rig.Rig) { r.Lift.Drop = unit.MM(drop) })
		for _, c := range assess.Judge(m.middle()) {
			if c.ID != "neighbours.lowered" {
				continue
			}
			got := m.withEnds([budget.Count]float64{})[lowered]
			if (got >= 0) != (c.AsDrawn() >= 0) && math.Abs(c.AsDrawn()) > 0.05 {
				t.Errorf("drop %g mm: %.3f mN left here, %.3f mm of drop by assess", drop, got, c.Margin)
			}
		}
	}
}

// Looking only at the outermost pieces finds what looking at all of them does.
func TestOutermostPiecesAreEnough(t *testing.T) {
	m := modelOf(t, otherRigs["both"])
	for k := range uint64(20) {
		x := build{pieces: slices.Clone(m.pieces)}
		x.draw(&m.budget, rand.New(rand.NewPCG(3, k)))
		b := bench{Model: m}
		few := b.margins(&x, nil2(m))
		all := make([]int, len(b.at))
		for i := range all {
			all[i] = i
		}
		b.held, b.dragged = all, all
		whole := make([]float64, direct)
		b.grip(whole)
		b.motion(&x, whole)
		b.neighbours(&x, whole)
		off := 0.0
		for i := range b.at {
			rest, err := b.rests(i)
			if err != nil {
				t.Fatal(err)
			}
			off = max(off, rest+b.glue(i))
		}
		whole[settle] = (settleShare*float64(m.rig.Board.Square) - off - math.Abs(x.machine[budget.Placement])) * 1e3
		for i := range reachField {
			if math.Abs(few[i]-whole[i]) > 1e-9*(1+math.Abs(whole[i])) {
				t.Errorf("build %d, %s: %.6f by the outermost, %.6f by all", k, directLines[i], few[i], whole[i])
			}
		}
	}
}

// The same seed gives the same result whatever the number of workers, and another one
// another.
func TestSameSeedSameResult(t *testing.T) {
	m := modelOf(t, nil)
	run := func(seed uint64, workers int) Result {
		r, err := m.Run(context.Background(), Options{Builds: 60, Seed: seed, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	one := run(5, 1)
	for _, workers := range []int{2, 3, 7} {
		if got := run(5, workers); !reflect.DeepEqual(got, one) {
			t.Errorf("%d workers: another result", workers)
		}
	}
	if got := run(6, 1); fmt.Sprint(got.Lines) == fmt.Sprint(one.Lines) {
		t.Error("another seed, the same lines")
	}
}

// The sampled pull is that of the table between its steps, to 1e-3 of the largest.
func TestProfileFollowsTheTable(t *testing.T) {
	for name, change := range otherRigs {
		m := modelOf(t, change)
		gap := float64(m.couple.Spread.Near)
		p, err := newProfile(m.table, gap, m.beside, nil)
		if err != nil {
			t.Fatal(err)
		}
		most, off := 0.0, 0.0
		for x := -m.beside; x < m.beside; x += 0.11e-3 {
			want, err := m.table.At(gap, x)
			if err != nil {
				t.Fatal(err)
			}
			got, _ := p.At(gap, x)
			most = max(most, math.Abs(want.Lateral), math.Abs(want.Axial))
			off = max(off, math.Abs(got.Lateral-want.Lateral), math.Abs(got.Axial-want.Axial))
		}
		if off > 1e-3*most {
			t.Errorf("%s: %.2g of the largest pull off", name, off/most)
		}
	}
}
