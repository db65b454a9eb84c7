// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/unit"
)

// haltAfter halts the gantry when some world time of motion has passed.
func haltAfter(w *World, seconds float64) {
	w.person.After(seconds, func() { _ = w.Gantry().Halt() })
}

// axesAt is where the motors count themselves to be, and the lift.
func axesAt(w *World) [3]float64 {
	return [3]float64{w.carriage.Motors().X, w.carriage.Motors().Y, w.carriage.Lift}
}

// refused checks that every motion but Home is refused and that nothing moves.
func refused(t *testing.T, w *World) {
	t.Helper()
	ctx, before := context.Background(), axesAt(w)
	if err := stroke(t, w, 0.1, 0.4, w.on("a1")); !errors.Is(err, ErrHalted) {
		t.Errorf("the next stroke: %v", err)
	}
	for _, raised := range []bool{true, false} {
		if err := w.Gantry().Lift(ctx, raised); !errors.Is(err, ErrHalted) {
			t.Errorf("the lift, raised %v: %v", raised, err)
		}
	}
	if after := axesAt(w); after != before {
		t.Errorf("moved from %v to %v while halted", before, after)
	}
}

func TestHaltHoldsUntilHome(t *testing.T) {
	ctx := context.Background()
	for name, halted := range map[string]func(w *World) error{
		"between two strokes": func(w *World) error {
			must(t, w.Gantry().Halt())
			return ErrHalted
		},
		"during a stroke": func(w *World) error {
			haltAfter(w, 0.3)
			return stroke(t, w, 0.05, 0.4, w.on("h8"))
		},
		"during the lift": func(w *World) error {
			haltAfter(w, 0.1)
			return w.Gantry().Lift(ctx, true)
		},
		"during homing": func(w *World) error {
			must(t, stroke(t, w, 0.1, 0.4, w.on("h8")))
			haltAfter(w, 0.5)
			_, err := w.Gantry().Home(ctx)
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := plain(t, kings)
			_, err := w.Gantry().Home(ctx)
			must(t, err)
			must(t, stroke(t, w, 0.1, 0.4, w.on("d4")))
			if err := halted(w); !errors.Is(err, ErrHalted) {
				t.Fatalf("got %v", err)
			}
			refused(t, w)
			_, err = w.Gantry().Home(ctx)
			must(t, err)
			must(t, stroke(t, w, 0.1, 0.4, w.on("d5")))
			must(t, w.Gantry().Lift(ctx, true))
		})
	}
}

// A halt before anything has moved holds as well: only Home begins.
func TestHaltBeforeAnything(t *testing.T) {
	w := plain(t, kings)
	must(t, w.Gantry().Halt())
	refused(t, w)
}

// The lift stays where the halt found it.
func TestHaltLeavesTheLift(t *testing.T) {
	w := plain(t, kings)
	_, err := w.Gantry().Home(context.Background())
	must(t, err)
	haltAfter(w, 0.1)
	if err := w.Gantry().Lift(context.Background(), true); !errors.Is(err, ErrHalted) {
		t.Fatal(err)
	}
	if w.carriage.Lift <= 0 || w.carriage.Lift >= 1 {
		t.Errorf("the lift is at %.2f of its way", w.carriage.Lift)
	}
}

// An axis that cannot follow tells so with the place it reached; one that
// stops is another matter.
func TestLagIsTold(t *testing.T) {
	w := plain(t, kings, Fast)
	_, err := w.Gantry().Home(context.Background())
	must(t, err)
	to := w.rig.MachineFromBoard().Apply(w.on("d5").At(0)).Spot()
	at, err := w.Gantry().Move(context.Background(), motion.Stroke{Path: []frame.Spot[frame.Machine]{to}, Speed: 0.12, Accel: 0.4})
	var lag *motion.Lag
	if !errors.As(err, &lag) || float64(lag.Behind) <= mechanics.Tolerance {
		t.Fatalf("got %v", err)
	}
	if at.Distance(to) > 1e-4 {
		t.Errorf("lagged, and ended %.2f mm off", at.Distance(to)*1e3)
	}
}

// Faultless strokes, fast and slow, with a piece and without, stay far below
// the tolerance.
func TestNoLagWithoutFault(t *testing.T) {
	w := plain(t, kings)
	must(t, towUp(t, w, 0.12, w.on("d5"), w.on("g2"), w.on("b7"), w.on("b2")))
	w.carriage.Stop()
	behind, err := w.stroke(context.Background(), motion.Stroke{Path: []frame.Spot[frame.Machine]{{X: 0.3, Y: 0.3}, {X: 0.1, Y: 0.2}}, Speed: 0.12, Accel: 0.4})
	must(t, err)
	if most := max(behind[0], behind[1]); most > mechanics.Tolerance/10 {
		t.Errorf("an axis was %.4f mm behind", most*1e3)
	}
}

func TestStallIsTold(t *testing.T) {
	r := rig.Default()
	r.Axis.Y.Motor.StallTorque = 1e-5
	w := worldOf(t, r, kings)
	_, err := w.Gantry().Home(context.Background())
	must(t, err)
	err = stroke(t, w, 0.1, 0.4, w.on("d5"))
	var stall *motion.Stall
	if !errors.As(err, &stall) || stall.Axis != "y" || stall.At > unit.MM(5) {
		t.Errorf("got %v", err)
	}
}
