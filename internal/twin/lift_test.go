package twin

import (
	"context"
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// With its spring the magnet follows the warp and the gap stays; without one
// the gap opens and closes with the board, or the magnet jams against it.
func TestSpringFollowsTheWarp(t *testing.T) {
	r := rig.Default()
	r.Board.Warp = unit.MM(2)
	q, err := NoQuirks(r)
	must(t, err)
	q.Bow = [4]float64{0, 0, 1, 0} // a dish: the rim 1 mm up, the middle down
	spread := func(spring unit.Stiffness) (lo, hi, press float64) {
		r.Lift.Spring = spring
		w, err := New(r, Options{Seed: 1, Quirks: &q, FEN: kings})
		must(t, err)
		w.carriage.Lift = 1
		lo = math.Inf(1)
		for _, name := range []string{"a1", "d4", "h8", "h1", "d8"} {
			g := w.gapAt(w.on(name))
			lo, hi, press = min(lo, g), max(hi, g), max(press, w.contact(w.on(name), 0))
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
	for seed := int64(1); seed < 5; seed++ {
		w, err := New(small(), Options{Seed: seed})
		must(t, err)
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range 81 {
			z := w.warp.at(spot{X: w.warp.half * (float64(i%9)/4 - 1), Y: w.warp.half * (float64(i/9)/4 - 1)})
			lo, hi = min(lo, z), max(hi, z)
		}
		if got, want := hi-lo, float64(w.rig.Board.Warp); math.Abs(got-want) > 1e-6 {
			t.Errorf("seed %d: %.3f mm, want %.3f mm", seed, got*1e3, want*1e3)
		}
	}
}

// Strong feet side by side push each other apart until friction holds, and
// push equally: the pair's middle stays.
func TestFeetRepel(t *testing.T) {
	r := small()
	r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(8), unit.MM(3)
	r.Board.Square = unit.MM(24)
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(2), unit.MM(1) // out of the play
	w := worldOf(t, r, "4k3/8/8/3pp3/8/8/8/4K3 b - - 0 1")
	a, b := w.men[1], w.men[2]
	if a.at.Distance(b.at) < 1.02*float64(r.Board.Square) {
		t.Errorf("they stand %.1f mm apart and did not budge", a.at.Distance(b.at)*1e3)
	}
	middle := a.at.Add(b.at).Scale(0.5)
	want := w.on("d5").Add(w.on("e5")).Scale(0.5)
	if middle.Distance(want) > 0.5e-3 {
		t.Errorf("their middle moved by %.2f mm: %v %v, wanted around %v", middle.Distance(want)*1e3, a.at, b.at, want)
	}
	push := w.pull.apart(a.at.Distance(b.at))
	if hold := a.static * a.mass * gravity; push > hold {
		t.Errorf("they rest although %.3f N push against %.3f N", push, hold)
	}
}

func TestTrapdoor(t *testing.T) {
	r := small()
	r.Removal.Mode = "chute"
	r.Removal.Chute = [2]unit.Length{unit.MM(100), unit.MM(-100)}
	w := worldOf(t, r, kings)
	must(t, tow(t, w, 0.06, 0.4, w.on("d5"), spot{X: 0.1, Y: -0.1}))
	if got := len(w.Truth().Men); got != 3 {
		t.Fatalf("%d men", got)
	}
	if w.men[1].place != gone {
		t.Error("the rook stands over the hole")
	}
	_, err := w.Camera().Look(context.Background())
	must(t, err)
}
