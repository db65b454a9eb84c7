// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// With its spring the magnet follows the warp and the gap stays; without one
// the gap opens and closes with the board, or the magnet jams against it.
func TestSpringFollowsTheWarp(t *testing.T) {
	r := rig.Default()
	r.Board.Warp = unit.MM(2)
	bow := [4]float64{0, 0, 1, 0} // a dish: the rim 1 mm up, the middle down
	spread := func(spring unit.Stiffness) (lo, hi, press float64) {
		r.Lift.Spring = spring
		w := bowed(t, r, kings, bow)
		lo = math.Inf(1)
		for _, name := range []string{"a1", "d4", "h8", "h1", "d8"} {
			m := Magnet{At: w.Centre(squareOf(name)), Lift: 1}
			g := w.gapAt(m)
			lo, hi, press = min(lo, g), max(hi, g), max(press, w.Contact(m, 0))
		}
		return lo, hi, press
	}
	if lo, hi, press := spread(r.Lift.Spring); hi-lo > 1e-9 || press > 0.7 {
		t.Errorf("sprung: gap %.2f to %.2f mm, pressed with %.2f N", lo*1e3, hi*1e3, press)
	}
	if lo, hi, press := spread(0); hi-lo < 0.5e-3 || press < 1 {
		t.Errorf("rigid: gap %.2f to %.2f mm, pressed with %.2f N", lo*1e3, hi*1e3, press)
	}
}

// Warp goes from peak to valley by what the rig says.
func TestWarpIsPeakToValley(t *testing.T) {
	for seed := uint64(1); seed < 5; seed++ {
		r, chance := rig.Default(), rand.New(rand.NewPCG(seed, 1))
		var bow [4]float64
		for i := range bow {
			bow[i] = 2*chance.Float64() - 1
		}
		w := newWarp(r, bow)
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range 81 {
			z := w.at(spot{X: w.half[0] * (float64(i%9)/4 - 1), Y: w.half[1] * (float64(i/9)/4 - 1)})
			lo, hi = min(lo, z), max(hi, z)
		}
		if got, want := hi-lo, float64(r.Board.Warp); math.Abs(got-want) > 1e-6 {
			t.Errorf("seed %d: %.3f mm, want %.3f mm", seed, got*1e3, want*1e3)
		}
	}
}

// Strong bases side by side push each other apart until friction holds, and
// push equally: the pair's middle stays.
func TestFeetRepel(t *testing.T) {
	r := rig.Default()
	r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(8), unit.MM(3)
	r.Board.Square = unit.MM(24)
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(2), unit.MM(1) // out of the play
	w := tableOf(t, r, "4k3/8/8/3pp3/8/8/8/4K3 b - - 0 1")
	a, b := w.Pieces[1], w.Pieces[2]
	if a.At.Distance(b.At) < 1.02*float64(r.Board.Square) {
		t.Errorf("they stand %.1f mm apart and did not budge", a.At.Distance(b.At)*1e3)
	}
	middle := a.At.Add(b.At).Scale(0.5)
	want := w.Centre(squareOf("d5")).Add(w.Centre(squareOf("e5"))).Scale(0.5)
	if middle.Distance(want) > 0.5e-3 {
		t.Errorf("their middle moved by %.2f mm: %v %v, wanted around %v", middle.Distance(want)*1e3, a.At, b.At, want)
	}
	push := w.pull.apart(a.At.Distance(b.At))
	if hold := a.Static * a.Mass * gravity; push > hold {
		t.Errorf("they rest although %.3f N push against %.3f N", push, hold)
	}
}
