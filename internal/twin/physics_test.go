// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

type spot = frame.Spot[frame.Board]

// plain is a world exactly as the default rig says.
func plain(t testing.TB, fen string, faults ...Fault) *World {
	t.Helper()
	return worldOf(t, rig.Default(), fen, faults...)
}

func worldOf(t testing.TB, r *rig.Rig, fen string, faults ...Fault) *World {
	t.Helper()
	q, err := NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	w, err := New(r, Options{Seed: 1, Deviations: &q, FEN: fen, Faults: faults})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// stroke sends the carriage along board spots.
func stroke(t testing.TB, w *World, speed, accel float64, path ...spot) error {
	t.Helper()
	s := motion.Stroke{Speed: unit.Speed(speed), Accel: unit.Acceleration(accel)}
	for _, p := range path {
		s.Path = append(s.Path, w.rig.MachineFromBoard().Apply(p.At(0)).Spot())
	}
	_, err := w.Gantry().Move(context.Background(), s)
	return err
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// tow homes, grips what stands on from and drags it along the path.
func tow(t testing.TB, w *World, speed, accel float64, path ...spot) error {
	t.Helper()
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	arrived(t, stroke(t, w, 0.1, 0.4, path[0]))
	must(t, w.Gantry().Lift(ctx, true))
	err = stroke(t, w, speed, accel, path...)
	must(t, w.Gantry().Lift(ctx, false))
	return err
}

// arrived is must, but lets a lag pass.
func arrived(t testing.TB, err error) {
	t.Helper()
	var lag *motion.Lag
	if !errors.As(err, &lag) {
		must(t, err)
	}
}

const kings = "4k3/8/8/3r4/8/8/8/4K3 b - - 0 1" // a rook on d5 and room around

func (w *World) on(s string) spot {
	return w.table.Centre(chess.SquareAt(int(s[0]-'a'), int(s[1]-'1')))
}

func TestSlowCarryArrives(t *testing.T) {
	w := plain(t, kings)
	must(t, tow(t, w, 0.05, 0.2, w.on("d5"), w.on("d2")))
	c := w.Truth().Counters
	if c.Collisions+c.Slips+c.Drags+c.Stalls+c.Toppled != 0 {
		t.Errorf("a clean slow carry counted %+v", c)
	}
	var at spot
	for _, m := range w.Truth().Pieces {
		if m.Piece == chess.MakePiece(chess.Black, chess.Rook) {
			at = m.At
		}
	}
	t.Logf("rook is %.2f, %.2f mm from d2", (at.X-w.on("d2").X)*1e3, (at.Y-w.on("d2").Y)*1e3)
	if at.Distance(w.on("d2")) > 0.006 {
		t.Errorf("the rook ended %.1f mm from d2", at.Distance(w.on("d2"))*1e3)
	}
	if at.Y < w.on("d2").Y {
		t.Error("the rook ran ahead of the magnet; it should lag")
	}
}

func TestSetUpDisturbsNothing(t *testing.T) {
	w, err := New(rig.Default(), Options{Seed: 4})
	must(t, err)
	p := chess.Start()
	for s, got := range w.Truth().Squares {
		if got != p.At(chess.Square(s)) {
			t.Errorf("%v holds %v", chess.Square(s), got)
		}
	}
}
