// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

func TestStickyPatchesLeavePiecesBehind(t *testing.T) {
	slips := 0
	for seed := int64(1); seed <= 12; seed++ {
		q, err := NoDeviations(small())
		must(t, err)
		w, err := New(small(), Options{Seed: seed, Deviations: &q, FEN: kings, Faults: []Fault{Slip}})
		must(t, err)
		must(t, tow(t, w, 0.06, 0.4, w.on("d5"), w.on("d4"), w.on("e4"), w.on("e5"), w.on("d5")))
		slips += counters(w).Slips
	}
	if slips == 0 || slips > 11 {
		t.Errorf("%d of 12 carries slipped: neither never nor always", slips)
	}
}

func TestCameraDropsPictures(t *testing.T) {
	w, err := New(small(), Options{Seed: 1, Faults: []Fault{CameraDrop}})
	must(t, err)
	lost := 0
	for range 200 {
		if _, err := w.Camera().Look(context.Background()); errors.Is(err, ErrNoPicture) {
			lost++
		} else {
			must(t, err)
		}
	}
	if lost < 1 || lost > 30 {
		t.Errorf("%d of 200 pictures did not arrive", lost)
	}
}

func TestBumpsMoveTheView(t *testing.T) {
	w, err := New(small(), Options{Seed: 1, Faults: []Fault{BumpCamera}})
	must(t, err)
	corner := func() frame.Spot[frame.Image] {
		px, ok := w.studio.View().Project(w.on("a1").At(0))
		if !ok {
			t.Fatal("a1 is out of the picture")
		}
		return px
	}
	before := corner()
	for range 200 {
		_, err := w.Camera().Look(context.Background())
		must(t, err)
	}
	if d := before.Distance(corner()); d < 0.1 || d > 40 {
		t.Errorf("after 200 pictures the view has moved by %.2f px of 160", d)
	}
}

// A light that changes changes the picture; a steady one only as film drifts.
func TestLightChanges(t *testing.T) {
	spread := func(faults ...Fault) float64 {
		w, err := New(small(), Options{Seed: 1, Faults: faults})
		must(t, err)
		lo, hi := math.Inf(1), 0.0
		for range 200 {
			_, err := w.Camera().Look(context.Background())
			must(t, err)
			m := w.studio.State().Power + w.studio.State().Rest
			lo, hi = min(lo, m), max(hi, m)
		}
		return hi / lo
	}
	if s := spread(); s != 1 {
		t.Errorf("a steady light changed by %.2f", s)
	}
	if s := spread(LightChange); s < 1.05 {
		t.Errorf("the light changed by a factor of %.2f only", s)
	}
}

func TestVisitorIsTheOnlyOne(t *testing.T) {
	r := rig.Default()
	r.Camera.Image = [2]int{160, 90}
	w, err := New(r, Options{Seed: 1, Visitor: true})
	must(t, err)
	tell(t, w, yourMove)
	looks(t, w)
	checkBoard(t, w, chess.Start())
	v := w.Visitor()
	e2, e4 := chess.SquareAt(4, 1), chess.SquareAt(4, 3)
	must(t, v.MovePiece(e2, e4))
	if !v.Busy() {
		t.Error("the piece moved without a hand")
	}
	looks(t, w)
	p := chess.Start()
	checkBoard(t, w, p.After(chess.MakeMove(e2, e4, 0)))
	if err := v.MovePiece(e2, e4); err == nil {
		t.Error("moved a piece that is not there")
	}
	if err := v.PutPiece(chess.NoPiece, e2); err == nil {
		t.Error("put nobody on e2")
	}
	must(t, v.PutPiece(chess.MakePiece(chess.Black, chess.Queen), e4))
	looks(t, w)
	if got := w.Truth().Squares[e4]; got != chess.MakePiece(chess.Black, chess.Queen) {
		t.Errorf("e4 holds %v", got)
	}
}

// The manual says of every fault what it is, and the truth names its part.
func TestEveryFaultIsDocumented(t *testing.T) {
	text, err := os.ReadFile("../../docs/manual.md")
	must(t, err)
	for _, f := range Faults() {
		if !strings.Contains(string(text), "`"+string(f)+"`") {
			t.Errorf("docs/manual.md does not name the fault %s", f)
		}
		if partOf[f] == "" {
			t.Errorf("%s is nobody's fault", f)
		}
	}
	all, err := New(small(), Options{Seed: 1, Faults: Faults()})
	must(t, err)
	if got := all.Truth().AtFault; len(got) != len(Faults()) {
		t.Errorf("with all %d faults the truth names %d: %+v", len(Faults()), len(got), got)
	}
}
