// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/drag"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
	"boardhand/internal/unit"
)

func counters(w *World) Counters {
	c := w.Truth().Counters
	c.Strokes = 0
	return c
}

// A piece dragged at steady speed stays behind by the lag of the balance
// lateral = μ(m g + axial), worked out by another package from the same pulls.
func TestLagIsTheBalance(t *testing.T) {
	r := rig.Default()
	r.Axis.X.Backlash, r.Axis.Y.Backlash = 0, 0
	r.Board.Kinetic, r.Board.Warp = r.Board.Friction, 0 // one friction: no stick and slip
	w := worldOf(t, r, kings)
	rook := w.find("d5")
	s := drag.Stand{Pull: drag.Scaled{Puller: w.table.Pull(), Times: rook.Strength}, Gap: r.Gap(), Mass: unit.Mass(rook.Mass),
		Static: rook.Static, Kinetic: rook.Kinetic}
	want, err := s.Lag(rook.Kinetic, 0)
	must(t, err)
	must(t, towUp(t, w, 0.05, w.on("d5"), w.on("d2")))
	got := rook.At.Distance(w.carriage.Magnet())
	if math.Abs(got-float64(want)) > 0.05e-3 { // braking over the last step shifts it by v·Step at most
		t.Errorf("lag %.3f mm, the balance says %.3f mm", got*1e3, want.MM())
	}
}

// towUp is tow, but leaves the magnet up.
func towUp(t *testing.T, w *World, speed float64, path ...spot) error {
	t.Helper()
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, path[0]))
	must(t, w.Gantry().Lift(ctx, true))
	return stroke(t, w, speed, 0.2, path...)
}

// find is the piece on a square; nil: none.
func (w *World) find(name string) *physics.Piece {
	for _, b := range w.table.Pieces {
		if s := w.table.Square(b); s != chess.NoSquare && s == w.table.SquareAt(w.on(name)) {
			return b
		}
	}
	return nil
}

// near is the piece on the board within a tenth of a square of a place; nil: none.
func (w *World) near(at spot) *physics.Piece {
	for _, b := range w.table.Pieces {
		if b.Place == physics.OnBoard && b.At.Distance(at) < 0.1*float64(w.rig.Board.Square) {
			return b
		}
	}
	return nil
}

func TestWeakMagnetLosesThePiece(t *testing.T) {
	w := plain(t, kings, WeakMagnet)
	must(t, tow(t, w, 0.06, 0.4, w.on("d5"), w.on("d2")))
	if c := counters(w); c.Slips == 0 {
		t.Errorf("nothing slipped: %+v", c)
	}
	if w.find("d2") != nil {
		t.Error("the rook arrived all the same")
	}
}

func TestTooFastTearsOff(t *testing.T) {
	r := rig.Default()
	r.Axis.Y.Speed, r.Axis.Y.Acceleration, r.Axis.Y.Motor.FreeSpeed, r.Axis.Y.Motor.StallTorque = 2, 200, 1e3, 50
	r.Axis.Y.Jerk = 1e5
	w := worldOf(t, r, kings)
	must(t, tow(t, w, 1.8, 150, w.on("d5"), w.on("d2")))
	if c := counters(w); c.Slips == 0 {
		t.Errorf("a piece torn along at 150 m/s² held on: %+v", c)
	}
}

func TestFastAxesCannotFollow(t *testing.T) {
	w := plain(t, kings, Fast)
	_ = tow(t, w, 0.12, 0.4, w.on("d5"), w.on("d2")) // may report a stalled axis
	if c := counters(w); c.Stalls == 0 {
		t.Errorf("nothing stalled: %+v", c)
	}
}

// The same ways between standing pieces are clean with narrow bases and not with
// wide ones: along a square's edge, and from square to square.
func TestWideFeetCollide(t *testing.T) {
	const crowd = "4k3/8/2p1p3/3rp3/2ppp3/8/8/4K3 b - - 0 1"
	lane := func(faults ...Fault) Counters {
		w := worldOf(t, rig.Default(), crowd, faults...)
		edge := w.on("d5").Add(spot{X: 0.02})
		must(t, tow(t, w, 0.06, 0.4, w.on("d5"), edge, edge.Add(spot{Y: -0.1})))
		return counters(w)
	}
	if c := lane(); c != (Counters{}) {
		t.Errorf("narrow bases: %+v", c)
	}
	if c := lane(WideFoot); c.Collisions == 0 {
		t.Errorf("wide bases did not touch: %+v", c)
	}
}

// No two bases ever overlap, however hard they are driven into each other.
func TestFeetDoNotOverlap(t *testing.T) {
	w := worldOf(t, rig.Default(), "4k3/8/8/3r4/3p4/3p4/3p4/7K b - - 0 1")
	must(t, tow(t, w, 0.12, 0.4, w.on("d5"), w.on("d3"), w.on("f3")))
	if c := counters(w); c.Collisions < 2 {
		t.Errorf("the row was not pushed together: %+v", c)
	}
	for i, a := range w.table.Pieces {
		for _, b := range w.table.Pieces[i+1:] {
			if over := a.Base + b.Base - a.At.Distance(b.At); over > 1e-6 {
				t.Errorf("pieces %d and %d overlap by %.4f mm", a.ID, b.ID, over*1e3)
			}
		}
	}
}

// Passing with the magnet up right beside a standing magnetised piece moves it.
func TestNeighbourIsDragged(t *testing.T) {
	w := worldOf(t, rig.Default(), "4k3/8/8/8/3p4/8/8/4K3 b - - 0 1")
	pass := w.on("d4").Add(spot{X: 0.006})
	must(t, tow(t, w, 0.06, 0.4, pass.Add(spot{Y: 0.05}), pass.Add(spot{Y: -0.05})))
	if c := counters(w); c.Drags+c.Slips == 0 {
		t.Errorf("the neighbour stood like a rock: %+v", c)
	}
	w = worldOf(t, rig.Default(), "4k3/8/8/8/3P4/8/8/4K3 b - - 0 1")
	must(t, tow(t, w, 0.06, 0.4, pass.Add(spot{Y: 0.05}), pass.Add(spot{Y: -0.05})))
	if c := counters(w); c != (Counters{}) {
		t.Errorf("a piece without a magnet was moved: %+v", c)
	}
}

// With the magnet down far enough the carriage passes under pieces unfelt; with
// too small a drop it does not.
func TestDropIsWhatFreesThePieces(t *testing.T) {
	pass := func(drop unit.Length) Counters {
		r := rig.Default()
		r.Lift.Drop = drop
		w := worldOf(t, r, "4k3/8/8/8/3p4/8/8/4K3 b - - 0 1")
		_, err := w.Gantry().Home(context.Background())
		must(t, err)
		must(t, stroke(t, w, 0.1, 0.4, w.on("d5"), w.on("d3")))
		return counters(w)
	}
	if c := pass(unit.MM(20)); c != (Counters{}) {
		t.Errorf("drop 20 mm: %+v", c)
	}
	if c := pass(unit.MM(1)); c.Drags == 0 {
		t.Errorf("drop 1 mm dragged nobody: %+v", c)
	}
}

func TestTallPiecesTopple(t *testing.T) {
	r := rig.Default()
	r.Pieces.Of(chess.Rook).Height, r.Pieces.Of(chess.Rook).Base, r.Pieces.Of(chess.Rook).Balance = unit.MM(90), unit.MM(7), 0.8
	r.Board.Friction, r.Board.Kinetic = 0.9, 0.9
	r.Axis.Y.Speed, r.Axis.Y.Acceleration, r.Axis.Y.Motor.FreeSpeed, r.Axis.Y.Motor.StallTorque = 2, 60, 1e3, 50
	r.Axis.Y.Jerk = 1e4
	w := worldOf(t, r, kings)
	must(t, tow(t, w, 0.5, 20, w.on("d5"), w.on("d2")))
	if c := counters(w); c.Toppled == 0 {
		t.Errorf("a broomstick on a coin stood: %+v", c)
	}
}

// The same travel approached from both sides ends a backlash apart.
func TestBacklash(t *testing.T) {
	w := plain(t, kings)
	_, err := w.Gantry().Home(context.Background())
	must(t, err)
	at := func(from spot) spot {
		must(t, stroke(t, w, 0.1, 0.4, from, spot{}))
		return w.carriage.Magnet()
	}
	left, right := at(spot{X: -0.05}), at(spot{X: 0.05})
	want := float64(w.rig.Axis.X.Backlash)
	if got := right.X - left.X; math.Abs(got-want) > 1e-4 {
		t.Errorf("the two ends are %.3f mm apart, want the backlash of %.3f mm", got*1e3, want*1e3)
	}
}

func TestGantryRefuses(t *testing.T) {
	w := plain(t, kings)
	ctx := context.Background()
	if err := stroke(t, w, 0.1, 0.4, spot{}); !errors.Is(err, ErrNoHome) {
		t.Errorf("before homing: %v", err)
	}
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	if err := stroke(t, w, 0.1, 0.4, spot{X: 0.3}); err == nil || !strings.Contains(err.Error(), "travel is 0–336") {
		t.Errorf("beyond the travel: %v", err)
	}
	gone, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := w.Gantry().Move(gone, motion.Stroke{Path: []frame.Spot[frame.Machine]{{X: 0.2, Y: 0.2}}, Speed: 0.1}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A stroke takes the world time that its profile takes, and Halt ends it.
func TestHaltStopsAtOnce(t *testing.T) {
	r := rig.Default()
	q, err := NoDeviations(r)
	must(t, err)
	w, err := New(r, Options{Seed: 1, Deviations: &q, FEN: kings, Pace: 20})
	must(t, err)
	ctx := context.Background()
	_, err = w.Gantry().Home(ctx)
	must(t, err)
	go func() {
		for !w.moving.Load() {
			time.Sleep(time.Millisecond)
		}
		time.Sleep(20 * time.Millisecond)
		_ = w.Gantry().Halt()
	}()
	to := frame.Spot[frame.Machine]{X: 0.3, Y: 0.3}
	at, err := w.Gantry().Move(ctx, motion.Stroke{Path: []frame.Spot[frame.Machine]{to}, Speed: 0.05})
	if !errors.Is(err, ErrHalted) {
		t.Fatalf("got %v", err)
	}
	if at.Distance(to) < 0.05 {
		t.Error("it ran on to its end")
	}
}

func TestStrokeTime(t *testing.T) {
	w := plain(t, kings)
	_, err := w.Gantry().Home(context.Background())
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, w.on("d5")))
	before := w.now
	must(t, stroke(t, w, 0.1, 0.4, w.on("d5").Add(spot{Y: 0.1})))
	want := 1.0 + 0.25 + 0.1 // s: 100 mm at 100 mm/s, 400 mm/s² and 4 m/s³, d/v + v/a + a/j
	if got := w.now - before; math.Abs(got-want) > 0.005 {
		t.Errorf("the stroke took %.3f s, want %.3f s", got, want)
	}
}

// A stepper that is asked for too much loses steps, says nothing, and finds
// its place again only at the switches.
func TestStepperLosesSteps(t *testing.T) {
	r := rig.Default()
	r.Axis.Y.Motor.Kind, r.Axis.Y.Motor.StallTorque = "stepper", 0.012
	r.Axis.Y.Motor.Counts = 3200
	w := worldOf(t, r, kings)
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.12, 0.4, w.on("d5")))
	if counters(w).Stalls == 0 || math.Abs(w.carriage.State().Axes[1].Lost) < 0.01 {
		t.Errorf("lost %.1f mm, %+v", w.carriage.State().Axes[1].Lost*1e3, counters(w))
	}
	_, err = w.Gantry().Home(ctx)
	must(t, err)
	if math.Abs(w.carriage.State().Axes[1].Lost) > 1e-6 {
		t.Errorf("still %.1f mm off after homing", w.carriage.State().Axes[1].Lost*1e3)
	}
}
