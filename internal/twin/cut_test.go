// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
)

// A cut in the middle of a carry leaves the piece where it is; the old gantry
// is dead, and a new one must find its zeros.
func TestPowerCutInTheMiddleOfACarry(t *testing.T) {
	drops := 0
	for seed := int64(1); seed <= 8; seed++ {
		r := rig.Default()
		q, err := NoDeviations(r)
		must(t, err)
		w, err := New(r, Options{Seed: seed, Deviations: &q, FEN: kings})
		must(t, err)
		ctx, g := context.Background(), w.Gantry()
		_, err = g.Home(ctx)
		must(t, err)
		must(t, stroke(t, w, 0.1, 0.4, w.on("d5")))
		must(t, g.Lift(ctx, true))
		b := w.find("d5")
		w.PowerCutAfter(0.5)
		if err := stroke(t, w, 0.06, 0.4, w.on("d5"), w.on("d2")); !errors.Is(err, ErrPowerCut) {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if y := b.At.Y - w.on("d5").Y; y > -0.01 || y < -0.04 {
			t.Errorf("seed %d: after half a second of the carry the piece is %.1f mm on", seed, -y*1e3)
		}
		if w.carriage.Lift == 0 {
			drops++
		}
		cut := b.At
		_, err = g.Home(ctx)
		if _, e2 := g.Home(ctx); !errors.Is(err, ErrPowerCut) || !errors.Is(e2, ErrPowerCut) || !errors.Is(g.Lift(ctx, true), ErrPowerCut) || g.Halt() == nil {
			t.Errorf("seed %d: the old gantry still answers", seed)
		}
		if err := stroke(t, w, 0.06, 0.4, w.on("d2")); !errors.Is(err, ErrNoHome) {
			t.Errorf("seed %d: a stroke without zeros: %v", seed, err)
		}
		_, err = w.Gantry().Home(ctx)
		must(t, err)
		if w.carriage.Lift != 0 || b.At.Distance(cut) > 0.2e-3 {
			t.Errorf("seed %d: homing moved the piece by %.2f mm", seed, b.At.Distance(cut)*1e3)
		}
		must(t, stroke(t, w, 0.1, 0.4, w.on("d2")))
	}
	if drops == 0 || drops == 8 {
		t.Errorf("the lift dropped %d of 8 times", drops)
	}
}

// A cut from outside, between motions and with a hand over the board.
func TestPowerCutLeavesTheGuestAlone(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	tell(t, w, notice.Notice{Kind: notice.YourMove})
	for w.person.Hand().Holds == nil {
		w.person.Elapse(0.1)
	}
	w.PowerCut()
	if w.person.Hand().Holds == nil {
		t.Error("the guest dropped the piece")
	}
	looks(t, w)
	p := chess.Start()
	checkBoard(t, w, p.After(w.Truth().Guest))
}
