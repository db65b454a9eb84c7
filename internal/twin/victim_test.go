// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/physics"
)

// toward drags the piece at fault from its square by way, raised from under
// its middle, and tells how far it went.
func dragIll(t *testing.T, w *World, f Fault, way spot) (b *physics.Piece, went spot) {
	t.Helper()
	b = w.ill(f)
	if b == nil {
		t.Fatalf("no piece has %s", f)
	}
	from := b.At
	arrived(t, tow(t, w, 0.06, 0.4, from, from.Add(way)))
	return b, b.At.Sub(from)
}

// alone is one knight of the machine's with room around; it is which every
// fault of a magnet meets.
const alone = "4k3/8/8/3n4/8/8/8/4K3 b - - 0 1"

func TestSoundPieceFollows(t *testing.T) {
	w := plain(t, alone)
	b := w.find("d5")
	must(t, tow(t, w, 0.06, 0.4, b.At, b.At.Add(spot{Y: -0.08})))
	if d := b.At.Distance(w.on("d3")); d > 2e-3 {
		t.Errorf("ended %.1f mm off", d*1e3)
	}
}

// A magnet upside down is pushed away: the piece ends farther from the drive
// magnet than the pull reaches, and never comes along.
func TestFlippedMagnetIsRepelled(t *testing.T) {
	w := plain(t, alone, MagnetFlipped)
	b := w.ill(MagnetFlipped)
	if b != w.find("d5") || b.Strength >= 0 {
		t.Fatalf("%v is flipped", b.Piece)
	}
	from := b.At
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, from))
	must(t, w.Gantry().Lift(ctx, true))
	if at := w.carriage.Magnet(); w.table.IsUnder(at, b) {
		t.Errorf("stands %.1f mm from the raised magnet, within the offset of the largest push", b.At.Distance(at)*1e3)
	}
	if w.table.Gripped() == b {
		t.Error("the magnet holds it")
	}
}

func TestMissingMagnetStays(t *testing.T) {
	w := plain(t, alone, MagnetMissing)
	if b, went := dragIll(t, w, MagnetMissing, spot{Y: -0.08}); went.Norm() > 1e-9 || b.Magnet {
		t.Errorf("went %v", went)
	}
	if at := w.Truth().AtFault; at[0].Shown != 1 {
		t.Errorf("it showed once: %+v", at)
	}
}

// A piece whose magnet is off centre ends off by as much, on the side that its
// magnet has turned away from: the magnet leads.
func TestOffCentreMagnetLeads(t *testing.T) {
	for seed := int64(1); seed <= 6; seed++ {
		r := rig.Default()
		q, err := NoDeviations(r)
		must(t, err)
		w, err := New(r, Options{Seed: seed, Deviations: &q, FEN: alone, Faults: []Fault{MagnetOffCentre}})
		must(t, err)
		b, went := dragIll(t, w, MagnetOffCentre, spot{Y: -0.12})
		if b.Astray < offCentreLeast || b.Astray > offCentreMost {
			t.Errorf("seed %d: %.2f mm off centre", seed, b.Astray*1e3)
		}
		lead := b.Pole().Sub(b.At)
		if lead.Y > -0.8*b.Astray {
			t.Errorf("seed %d: after 120 mm the magnet lies %v of the piece, not ahead", seed, lead)
		}
		if short := 0.12 + went.Y; math.Abs(short-b.Astray) > 1.5e-3 {
			t.Errorf("seed %d: it ended %.1f mm short, the magnet is %.1f mm off", seed, short*1e3, b.Astray*1e3)
		}
	}
}

// The victim is one of the machine's, carries a magnet, and another one with
// another seed; a fault that is off changes nothing.
func TestVictims(t *testing.T) {
	seen := map[chess.Square]bool{}
	sound, err := New(rig.Default(), Options{Seed: 1})
	must(t, err)
	for seed := int64(1); seed <= 20; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed, Faults: []Fault{MagnetFlipped, MagnetMissing, MagnetOffCentre}})
		must(t, err)
		at := w.Truth().AtFault
		if len(at) != 3 || at[0].Part != PartBaseMagnet || at[0].Fault != MagnetFlipped {
			t.Fatalf("seed %d: %+v", seed, at)
		}
		for _, a := range at {
			p := chess.Start()
			if a.Piece.Color() != chess.Black || p.At(a.Origin) != a.Piece {
				t.Errorf("seed %d: %+v", seed, a)
			}
			seen[a.Origin] = true
		}
		if seed == 1 {
			for i, b := range w.table.Pieces {
				if o := sound.table.Pieces[i]; w.ills[b] == "" && (b.At != o.At || b.Strength != o.Strength || b.Yaw != o.Yaw) {
					t.Errorf("the fault of another piece changed %v on %v", b.Piece, b.Origin)
				}
			}
		}
	}
	if len(seen) < 8 {
		t.Errorf("20 seeds met %d pieces only", len(seen))
	}
	if at := sound.Truth().AtFault; len(at) != 0 {
		t.Errorf("without a fault: %+v", at)
	}
}

// The lift catches on about a third of its ways down, and Lift says nothing;
// the time passes all the same.
func TestLiftStaysUp(t *testing.T) {
	w := plain(t, kings, LiftStaysUp)
	ctx, up := context.Background(), 0
	const tries = 60
	for range tries {
		must(t, w.Gantry().Lift(ctx, true))
		before := w.now
		must(t, w.Gantry().Lift(ctx, false))
		if want := float64(w.rig.Lift.Drop) / float64(w.rig.Lift.Speed); math.Abs(w.now-before-want) > 0.01 {
			t.Fatalf("the lift took %.2f s, its way takes %.2f s", w.now-before, want)
		}
		if w.carriage.Lift == 1 {
			up++
		}
	}
	if up < tries/5 || up > tries/2 {
		t.Errorf("stayed up %d of %d times", up, tries)
	}
	if at := w.Truth().AtFault; at[0].Shown != 0 {
		t.Errorf("it moved nobody: %+v", at)
	}
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	for !w.carriage.IsCaught() {
		must(t, w.Gantry().Lift(ctx, true))
		must(t, w.Gantry().Lift(ctx, false))
	}
	king := w.find("e8").At
	must(t, stroke(t, w, 0.1, 0.4, king.Add(spot{X: -0.03}), king.Add(spot{X: 0.03})))
	if at := w.Truth().AtFault; at[0].Shown == 0 {
		t.Errorf("it has dragged the king along: %+v", at)
	}
}

func TestLiftStaysDown(t *testing.T) {
	for seed := int64(1); seed <= 5; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed, FEN: kings, Faults: []Fault{LiftStaysDown}})
		must(t, err)
		ups, last := 0, 1.0
		for range mechanics.MostRaises + 5 {
			must(t, w.Gantry().Lift(context.Background(), true))
			if w.carriage.Lift > last {
				t.Fatalf("seed %d: it went up again", seed)
			}
			if last = w.carriage.Lift; w.carriage.Lift == 1 {
				ups++
			}
			must(t, w.Gantry().Lift(context.Background(), false))
		}
		if ups < mechanics.LeastRaises || ups > mechanics.MostRaises {
			t.Errorf("seed %d: it went up %d times", seed, ups)
		}
		if at := w.Truth().AtFault; at[0].Shown != mechanics.MostRaises+5-ups || at[0].Pieces != 0 { // nobody stands at home
			t.Errorf("seed %d: of %d times it went up %d: %+v", seed, mechanics.MostRaises+5, ups, at)
		}
		_, err = w.Gantry().Home(context.Background())
		must(t, err)
		must(t, stroke(t, w, 0.1, 0.4, w.find("e8").At))
		must(t, w.Gantry().Lift(context.Background(), true))
		must(t, w.Gantry().Lift(context.Background(), true))
		if at := w.Truth().AtFault; at[0].Pieces != 1 {
			t.Errorf("seed %d: below the king it stays down, and leaves %d pieces", seed, at[0].Pieces)
		}
	}
}
