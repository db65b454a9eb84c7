// SPDX-License-Identifier: Apache-2.0

package carriage

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
	"boardhand/internal/table/suspects"
	"boardhand/internal/unit"
)

// recorder is a gantry that writes down what it is told, and fails when a test
// says so.
type recorder struct {
	did     []string
	strokes []motion.Stroke
	fail    map[string]error            // by what it is told
	reach   float64                     // share of each stroke that is run; 0: all
	during  func(context.Context) error // runs while a stroke does
}

func (g *recorder) do(what string) error {
	g.did = append(g.did, what)
	return g.fail[what]
}

func (g *recorder) Home(context.Context) (frame.Spot[frame.Machine], error) {
	return frame.Spot[frame.Machine]{X: 0.001, Y: 0.002}, g.do("home")
}

func (g *recorder) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	g.strokes = append(g.strokes, s)
	end := s.Path[len(s.Path)-1]
	if g.reach > 0 {
		end = s.Path[0].Add(end.Sub(s.Path[0]).Scale(g.reach))
	}
	err := g.do("move")
	if g.during != nil {
		err = g.during(ctx)
	}
	return end, err
}

func (g *recorder) Lift(_ context.Context, raised bool) error {
	if raised {
		return g.do("up")
	}
	return g.do("down")
}

func (g *recorder) Halt() error { return g.do("halt") }

// nowhere is a log that keeps nothing.
type nowhere struct{}

func (nowhere) Append(context.Context, journal.Record) error { return nil }

// bench is a carriage with a recorder under it, at the start of a game.
type bench struct {
	*Carriage
	gantry *recorder
	shown  []desk.Event
	began  int // steps that were shown to begin
}

func newBench(t *testing.T) *bench {
	t.Helper()
	r := rig.Default()
	m := model.NewModel(model.Machine{Side: chess.Black, Carried: [2]bool{chess.Black: true}, Layout: places.Layout{Square: unit.MM(32)}},
		journal.Past{Game: chess.NewGame(chess.Start())})
	d := desk.NewDesk(m, nowhere{}, nil, "")
	b := &bench{gantry: &recorder{fail: map[string]error{}}}
	d.Observe = func(e desk.Event) {
		b.shown = append(b.shown, e)
		if e.Step != nil {
			b.began++
		}
	}
	var nobody *suspects.Suspects
	b.Carriage = NewCarriage(Gears{Gantry: b.gantry, Gearing: carry.NewGearing(r, r.MachineFromBoard())}, d, m, nobody)
	return b
}

// pawnForward brings the pawn from e7 to e5 on a straight way.
func pawnForward() plan.Plan {
	at := func(x, y float64) frame.Spot[frame.Board] { return frame.Spot[frame.Board]{X: x, Y: y} }
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	way := []frame.Spot[frame.Board]{at(0.016, 0.080), at(0.016, 0.016)}
	return plan.Plan{Steps: []plan.Step{
		{Do: plan.Travel, Path: []frame.Spot[frame.Board]{at(-0.1, -0.1), way[0]}},
		{Do: plan.Grip, Piece: pawn},
		{Do: plan.Carry, Piece: pawn, Path: way, PiecePath: way, From: chess.SquareAt(4, 6), To: chess.SquareAt(4, 4)},
		{Do: plan.Release, Piece: pawn},
	}}
}

func (b *bench) did() string { return strings.Join(b.gantry.did, " ") }

// A plan is done step by step; each is shown as it begins, and where the carriage
// is when it has ended.
func TestStepsInOrder(t *testing.T) {
	b := newBench(t)
	if err := b.Steps(t.Context(), pawnForward()); err != nil {
		t.Fatal(err)
	}
	if b.did() != "move up move down" || b.began != 4 {
		t.Errorf("the gantry did %q, %d steps were shown", b.did(), b.began)
	}
	last := b.shown[len(b.shown)-1]
	if last.Carriage == nil || last.Carriage.Distance(frame.Spot[frame.Board]{X: 0.016, Y: 0.016}) > 1e-6 || last.Lift != model.Lowered {
		t.Errorf("at the end it shows %v, the lift %s", last.Carriage, last.Lift)
	}
	if at := b.Scene().Carriage; at.Distance(*last.Carriage) > 1e-12 {
		t.Errorf("the next plan would begin at %v", at)
	}
}

// A stroke that fails half way ends the plan there: the magnet stays under the piece,
// and the carriage is where its axes say.
func TestStrokeThatStallsHalfWay(t *testing.T) {
	b := newBench(t)
	stall := &motion.Stall{Axis: "y", At: unit.MM(120)}
	made := pawnForward()
	if err := b.Steps(t.Context(), plan.Plan{Steps: made.Steps[:2]}); err != nil {
		t.Fatal(err)
	}
	b.gantry.fail["move"], b.gantry.reach, b.gantry.did = stall, 0.5, nil
	err := b.Steps(t.Context(), plan.Plan{Steps: made.Steps[2:]})
	var is *motion.Stall
	if !errors.As(err, &is) || !strings.Contains(err.Error(), "step 1 of 2 (carry)") {
		t.Errorf("it ended with %v", err)
	}
	if b.did() != "move" || b.model.Lift != model.Raised {
		t.Errorf("the gantry did %q, the lift is %s", b.did(), b.model.Lift)
	}
	if at := b.Scene().Carriage; at.Distance(frame.Spot[frame.Board]{X: 0.016, Y: 0.048}) > 1e-3 {
		t.Errorf("the carriage is at %v", at)
	}
}

// An axis that fell behind and yet arrived holds nothing up.
func TestLagIsNoFailure(t *testing.T) {
	b := newBench(t)
	b.gantry.fail["move"] = &motion.Lag{Axis: "x", Behind: unit.MM(1)}
	if err := b.Steps(t.Context(), pawnForward()); err != nil || b.did() != "move up move down" {
		t.Errorf("the gantry did %q and said %v", b.did(), err)
	}
}

// A lift that fails is believed to be where it was.
func TestLiftThatFails(t *testing.T) {
	b := newBench(t)
	b.gantry.fail["up"] = errors.New("the lift hangs")
	err := b.Steps(t.Context(), pawnForward())
	if err == nil || !strings.Contains(err.Error(), "step 2 of 4 (grip): the lift hangs") || b.model.Lift != model.Lowered {
		t.Errorf("%v; the lift is %s", err, b.model.Lift)
	}
}

// While a person has stopped the machine no step begins, and a stop ends the stroke
// under way.
func TestStopHoldsSteps(t *testing.T) {
	b := newBench(t)
	b.gantry.during = func(ctx context.Context) error {
		b.desk.Halt()
		<-ctx.Done() // ended by the stop, or this test hangs
		return ctx.Err()
	}
	if err := b.Steps(t.Context(), pawnForward()); !errors.Is(err, desk.ErrHalted) || b.did() != "move" {
		t.Errorf("stopped in the first stroke: %v after %q", err, b.did())
	}
	b.gantry.did = nil
	for _, s := range pawnForward().Steps {
		if err := b.Drive(t.Context(), s); !errors.Is(err, desk.ErrHalted) {
			t.Errorf("a %s while stopped: %v", s.Do, err)
		}
	}
	if err := b.Home(t.Context()); !errors.Is(err, desk.ErrHalted) || b.did() != "" {
		t.Errorf("homing while stopped: %v after %q", err, b.did())
	}
}

// Homing tells where the carriage is and that the magnet is down; one that fails
// tells nothing new.
func TestHome(t *testing.T) {
	b := newBench(t)
	b.model.Lift = model.Raised
	b.gantry.fail["home"] = errors.New("the switch of axis x was not found")
	if err := b.Home(t.Context()); err == nil || b.model.Lift != model.Raised || len(b.shown) != 0 {
		t.Errorf("a failed homing: %v, the lift %s, shown %v", err, b.model.Lift, b.shown)
	}
	delete(b.gantry.fail, "home")
	if err := b.Home(t.Context()); err != nil || b.model.Lift != model.Lowered || b.model.Carriage != (frame.Spot[frame.Machine]{X: 0.001, Y: 0.002}) {
		t.Errorf("homed: %v, the lift %s, at %v", err, b.model.Lift, b.model.Carriage)
	}
}

// What only a person can do is no step for the gantry.
func TestNoStepOfAPerson(t *testing.T) {
	b := newBench(t)
	if err := b.Drive(t.Context(), plan.Step{Do: plan.Ask, Text: "Please take the pawn."}); err == nil || b.did() != "" {
		t.Errorf("%v; the gantry did %q", err, b.did())
	}
}

// The session leaves the magnet down and the axes stopped; a stop by hand is not
// overruled.
func TestRetire(t *testing.T) {
	for _, c := range []struct {
		lift model.Lift
		stop bool
		want []string
	}{{model.Lowered, false, []string{"halt"}}, {model.Raised, false, []string{"down", "halt"}}, {model.Raised, true, []string{"halt"}}} {
		b := newBench(t)
		if b.model.Lift = c.lift; c.stop {
			b.desk.Halt()
		}
		if b.Retire(); !slices.Equal(b.gantry.did, c.want) {
			t.Errorf("%s, stopped %v: the gantry did %v, want %v", c.lift, c.stop, b.gantry.did, c.want)
		}
	}
}
