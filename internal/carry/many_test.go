// SPDX-License-Identifier: Apache-2.0

package carry_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"boardhand/internal/carry/limits"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// played calls do for n positions with Black to move out of casual games, each
// with a legal move.
func played(t *testing.T, rnd *rand.Rand, n int, do func(chess.Position, chess.Move)) {
	t.Helper()
	for done := 0; done < n; {
		pos := chess.Start()
		for ply := 0; ply < 160 && done < n; ply++ {
			moves := pos.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			if pos.SideToMove() == chess.Black {
				do(pos, moves[rnd.IntN(len(moves))])
				done++
			}
			m, err := search.Casual(search.Root{Position: pos}, rnd, rnd.Float64())
			must(t, err)
			pos.Make(m)
		}
	}
}

// evening is what came of many moves in the twin with one size of base.
type evening struct {
	moves, asked, asides int
	spoilt               int // moves in which the umpire noted anything
	worst                float64
	began                time.Time
	spent, told          float64 // s of world time: the machine's, the plans'
}

// Positions from games, pieces askew, bases from slim to broad: the simulated
// machine carries one move in each, of any kind, and its umpire must note
// nothing: nobody touched, nobody dragged, nobody lost.
func TestNobodyTouchedInTheTwin(t *testing.T) {
	n := 6
	if long() {
		n = 10000
	}
	for _, base := range []float64{0.30, 0.40, 0.45, 0.60} {
		seed := uint64(21)
		rnd := rand.New(rand.NewPCG(seed, uint64(100*base)))
		r := rig.Default()
		for _, k := range r.Pieces.Kinds().All() {
			m := r.Pieces.Of(k)
			m.Base = unit.Length(base * float64(r.Board.Square))
		}
		b := newBench(t, r, "", 0.05)
		at := b.gearing.Carriage(frame.Spot[frame.Machine]{})
		e := evening{began: time.Now()}
		played(t, rnd, n, func(pos chess.Position, m chess.Move) {
			at = e.move(b, at, pos, m)
			if long() && e.moves%1000 == 0 {
				t.Log(e.line(base))
			}
		})
		t.Logf("seed %d, %s", seed, e.line(base))
		if e.spoilt > 0 {
			t.Errorf("base %.2f: the umpire noted something in %d moves", base, e.spoilt)
		}
		if side := float64(r.Board.Square); e.worst > 0.03*side {
			t.Errorf("base %.2f: a piece ended %.2f mm off, 3 %% of the square is %.2f mm", base, e.worst*1e3, 30*side)
		}
	}
}

// Machines as they are built: a pose off by what a rule leaves, friction and
// magnets that scatter, a bowed board. The plans know the rig file only.
func TestNobodyTouchedOnBuiltMachines(t *testing.T) {
	seed := uint64(41)
	rnd := rand.New(rand.NewPCG(seed, 1))
	machines, each := 3, 3
	if long() {
		machines, each = 200, 30
	}
	r := rig.Default()
	e := evening{began: time.Now()}
	for range machines {
		q, err := twin.DrawDeviations(r, rnd)
		must(t, err)
		b := benchWith(t, r, "", q)
		at := b.gearing.Carriage(frame.Spot[frame.Machine]{})
		played(t, rnd, each, func(pos chess.Position, m chess.Move) { at = e.move(b, at, pos, m) })
	}
	t.Logf("seed %d, %d machines, %s", seed, machines, e.line(float64(r.Pieces.Of(chess.Pawn).Base/r.Board.Square)))
	if e.spoilt > 0 {
		t.Errorf("the umpire noted something in %d moves", e.spoilt)
	}
}

// otherMachines are machines far from the default one: quick, rough, gentle,
// loose, weak, and one with belts and steppers.
var otherMachines = []struct {
	name string
	axis func(*rig.Axis)
}{
	{"quick", func(a *rig.Axis) {
		a.Speed, a.Acceleration, a.Jerk, a.Motor.FreeSpeed = 0.4, 3, 30, unit.RPM(800)
	}},
	{"extreme", func(a *rig.Axis) {
		a.Speed, a.Acceleration, a.Jerk, a.Motor.FreeSpeed = 0.8, 10, 500, unit.RPM(1600)
	}},
	{"no soft start", func(a *rig.Axis) { a.Jerk = 1000 }},
	{"gentle", func(a *rig.Axis) { a.Speed, a.Acceleration, a.Jerk = 0.05, 0.05, 0.05 }},
	{"much play", func(a *rig.Axis) { a.Backlash = 0.0012 }},
	{"weak motors", func(a *rig.Axis) { a.Motor.FreeSpeed, a.Motor.StallTorque = unit.RPM(120), 0.03 }},
	{"belts and steppers", func(a *rig.Axis) {
		a.Drive, a.Pitch, a.Teeth, a.Speed, a.Acceleration, a.Jerk = "belt", 0.002, 20, 0.25, 1.5, 15
		a.Motor = rig.Motor{Kind: "stepper", StallTorque: 0.3, Counts: 3200, Gearing: 1, Voltage: 12, Current: 1.2, Inductance: 0.004, FullSteps: 200}
	}},
}

// Whatever the axes: strokes planned for them are driven without touching,
// dragging, losing or stalling, in nearly the time that was planned.
func TestOtherMachinesInTheTwin(t *testing.T) {
	n := 4
	if long() {
		n = 300
	}
	for _, o := range otherMachines {
		seed := uint64(51)
		rnd := rand.New(rand.NewPCG(seed, 1))
		r := rig.Default()
		o.axis(&r.Axis.X)
		o.axis(&r.Axis.Y)
		b := newBench(t, r, "", 0.05)
		at := b.gearing.Carriage(frame.Spot[frame.Machine]{})
		e := evening{began: time.Now()}
		played(t, rnd, n, func(pos chess.Position, m chess.Move) { at = e.move(b, at, pos, m) })
		t.Logf("seed %d, %s: %s", seed, o.name, e.line(float64(r.Pieces.Of(chess.Pawn).Base/r.Board.Square)))
		if e.spoilt > 0 || e.worst > 0.03*float64(r.Board.Square) || math.Abs(e.told/e.spent-1) > 0.05 {
			t.Errorf("%s: %s", o.name, e.line(0))
		}
	}
}

// move sets a position up, has the machine make the move and asks the umpire;
// it returns where the carriage ended.
func (e *evening) move(b *bench, at frame.Spot[frame.Board], pos chess.Position, m chess.Move) frame.Spot[frame.Board] {
	b.t.Helper()
	must(b.t, b.world.SetUp(pos.FEN()))
	made, err := b.planner.Move(context.Background(), b.scene(at), pos, m)
	must(b.t, err)
	e.moves++
	e.asides += made.Asides
	for _, s := range made.Steps {
		if len(s.Path) > 0 {
			at = s.Path[len(s.Path)-1]
		}
		if s.Do == plan.Ask && s.From < chess.NoSquare && s.To < chess.NoSquare {
			e.asked++ // beyond pieces taken off and exchanged
		}
	}
	began := b.world.Truth().Time
	b.run(made)
	if made.Asks() == 0 {
		e.told, e.spent = e.told+float64(made.Time), e.spent+b.world.Truth().Time-began
	}
	truth, after := b.world.Truth(), pos.After(m)
	if c := truth.Counters; spoilt(c) || made.Doubt != "" {
		e.spoilt++
		b.t.Logf("%s %v: the umpire noted %+v; %s", pos.FEN(), m, c, made.Doubt)
	}
	for sq := chess.Square(0); sq < chess.NoSquare; sq++ {
		if truth.Squares[sq] != after.At(sq) {
			b.t.Errorf("%s %v: %v stands on %v", pos.FEN(), m, truth.Squares[sq], sq)
		}
	}
	if m.Promotion() == chess.NoKind { // a person put the other there
		e.worst = math.Max(e.worst, b.off(m.To()))
	}
	return at
}

func (e *evening) line(base float64) string {
	return fmt.Sprintf("base %.2f: %d moves in the twin, %d questions beyond pieces taken off, %d step-asides, %d spoilt; worst arrival %.2f mm off; predicted time over the machine's %.3f; %.0f moves a second",
		base, e.moves, e.asked, e.asides, e.spoilt, e.worst*1e3, e.told/e.spent, float64(e.moves)/time.Since(e.began).Seconds())
}

// Axes and motors by chance, from gentle to wild, barely strong enough or far
// too strong: the simulated machine, whose motors have their own line and lose
// steps or fall behind beyond it, stalls on no plan and takes the time of it.
func TestNoPlanAsksTooMuchOfTheMotors(t *testing.T) {
	seed := uint64(61)
	rnd := rand.New(rand.NewPCG(seed, 1))
	machines, weak := 12, 0
	if long() {
		machines = 300
	}
	e := evening{began: time.Now()}
	for n := range machines {
		r := rig.Default()
		some := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rnd.Float64()) }
		for _, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
			a.Speed, a.Acceleration, a.Jerk = unit.Speed(some(0.05, 1)), unit.Acceleration(some(0.1, 12)), unit.Jerk(some(1, 800))
			a.Motor.FreeSpeed, a.Motor.StallTorque = unit.RPM(some(100, 2500)), unit.Torque(some(0.03, 2))
			if rnd.IntN(2) == 0 {
				a.Drive, a.Pitch, a.Teeth = "belt", 0.002, 20
				a.Motor = rig.Motor{Kind: "stepper", StallTorque: unit.Torque(some(0.05, 1)), Counts: 3200, Gearing: 1,
					Voltage: unit.Voltage(some(6, 36)), Current: 1.2, Inductance: unit.Inductance(some(0.0005, 0.006)), FullSteps: 200}
			}
		}
		if _, err := limits.Of(r); err != nil {
			weak++ // cannot even overcome its friction
			continue
		}
		b, before := newBench(t, r, "", 0.05), e
		at := b.gearing.Carriage(frame.Spot[frame.Machine]{})
		played(t, rnd, 2, func(pos chess.Position, m chess.Move) { at = e.move(b, at, pos, m) })
		if took := (e.told - before.told) / (e.spent - before.spent); e.spoilt > before.spoilt || math.Abs(took-1) > 0.06 {
			t.Errorf("machine %d, %+v %+v: predicted time over the machine's %.3f", n, r.Axis.X, r.Axis.Y, took)
		}
	}
	t.Logf("seed %d, %d machines, %d too weak to move, %s", seed, machines, weak, e.line(float64(rig.Default().Pieces.Of(chess.Pawn).Base/rig.Default().Board.Square)))
}
