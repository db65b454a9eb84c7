// SPDX-License-Identifier: Apache-2.0

package carry_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// bench is a simulated machine that runs plans.
type bench struct {
	t       *testing.T
	rig     *rig.Rig
	world   *twin.World
	gearing *carry.Gearing
	planner *carry.Planner
	lags    int // strokes after which the gantry said that an axis was behind
}

func long() bool { return os.Getenv("BOARDHAND_LONG") == "1" }

func newBench(t *testing.T, r *rig.Rig, fen string, placement float64) *bench {
	t.Helper()
	q, err := twin.NoDeviations(r)
	must(t, err)
	q.Placement = placement
	return benchWith(t, r, fen, q)
}

func benchWith(t *testing.T, r *rig.Rig, fen string, q twin.Deviations) *bench {
	t.Helper()
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &q, FEN: fen, Visitor: true})
	must(t, err)
	_, err = w.Gantry().Home(context.Background())
	must(t, err)
	return &bench{t: t, rig: r, world: w, gearing: carry.NewGearing(r, r.MachineFromBoard()), planner: plannerFor(t, r)}
}

// plannerFor keeps the last planner: the limits take a while to work out.
func plannerFor(t *testing.T, r *rig.Rig) *carry.Planner {
	t.Helper()
	if lastRig == r {
		return lastPlanner
	}
	p, err := carry.NewPlanner(r)
	must(t, err)
	lastRig, lastPlanner = r, p
	return p
}

var (
	lastRig     *rig.Rig
	lastPlanner *carry.Planner
)

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// scene is what a perfect eye would tell the planner.
func (b *bench) scene(at frame.Spot[frame.Board]) plan.Scene {
	s := plan.Scene{Carriage: at}
	for _, m := range b.world.Truth().Pieces {
		if m.OnBoard {
			s.Pieces = append(s.Pieces, b.planner.Stand(m.Piece, m.Square, m.At))
		}
	}
	return s
}

func (b *bench) run(made plan.Plan) {
	b.t.Helper()
	ctx := context.Background()
	for _, s := range made.Steps {
		switch s.Do {
		case plan.Travel, plan.Carry:
			_, err := b.world.Gantry().Move(ctx, b.gearing.Stroke(s))
			var lag *motion.Lag
			if errors.As(err, &lag) {
				b.lags++
			} else {
				must(b.t, err)
			}
		case plan.Grip, plan.Release:
			must(b.t, b.world.Gantry().Lift(ctx, s.Do == plan.Grip))
		case plan.Ask:
			b.obey(s)
		}
	}
}

// obey does by hand what a step asks for.
func (b *bench) obey(s plan.Step) {
	v := b.world.Visitor()
	switch {
	case s.From >= chess.NoSquare:
		must(b.t, v.PutPiece(s.Piece, s.To))
	case s.From == s.To:
		must(b.t, v.MovePiece(s.From, chess.NoSquare))
		v.Finish()
		must(b.t, v.PutPiece(s.Piece, s.To))
	default:
		must(b.t, v.MovePiece(s.From, s.To))
	}
	v.Finish()
}

// spoilt says whether the umpire noted anything.
func spoilt(c twin.Counters) bool { return c.Collisions+c.Slips+c.Drags+c.Stalls+c.Toppled > 0 }

// clean fails when the umpire noted anything.
func (b *bench) clean(what string) {
	b.t.Helper()
	if c := b.world.Truth().Counters; spoilt(c) {
		b.t.Fatalf("%s: the umpire noted %+v", what, c)
	}
}

func both() *rig.Rig {
	r := rig.Default()
	r.Pieces.Carried = "both"
	return r
}

// Many moves on end, planned from where the plans before said the pieces would
// be, not from where they are: nobody strays.
func TestNobodyDriftsInManyMoves(t *testing.T) {
	seed := uint64(5)
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 1))
	b := newBench(t, both(), "", 0)
	pos := chess.Start()
	s := b.scene(b.gearing.Carriage(frame.Spot[frame.Machine]{}))
	moves := 60
	if long() {
		moves = 500
	}
	asides, told, began := 0, 0.0, b.world.Truth().Time
	for n := range moves {
		m, ok := quiet(&pos, rnd)
		if !ok {
			t.Logf("no quiet move left after %d", n)
			break
		}
		plan, err := b.planner.Move(context.Background(), s, pos, m)
		must(t, err)
		asides, told = asides+plan.Asides, told+float64(plan.Time)
		b.run(plan)
		b.clean(m.String())
		s = b.planner.After(s, plan)
		pos = pos.After(m)
	}
	if ratio := told / (b.world.Truth().Time - began); math.Abs(ratio-1) > 0.1 {
		t.Errorf("the plans predict %.1f s, the machine takes %.2f times as long", told, 1/ratio)
	} else {
		t.Logf("predicted time over the machine's: %.3f", ratio)
	}
	worst, square := 0.0, float64(b.rig.Board.Square)
	for _, m := range b.world.Truth().Pieces {
		if m.OnBoard {
			worst = math.Max(worst, m.At.Distance(b.planner.Centre(m.Square)))
			if pos.At(m.Square) != m.Piece {
				t.Errorf("%v stands on %v", m.Piece, m.Square)
			}
		}
	}
	t.Logf("%d moves, %d step-asides: worst piece %.2f mm off centre, %.1f %% of the square", moves, asides, worst*1e3, 100*worst/square)
	if worst > 0.03*square {
		t.Errorf("a piece ended %.2f mm off, 3 %% of the square is %.2f mm", worst*1e3, 30*square)
	}
}

// quiet is a legal move that takes nothing and does not promote, with another
// such move after it.
func quiet(pos *chess.Position, rnd *rand.Rand) (chess.Move, bool) {
	moves := pos.LegalMoves(nil)
	rnd.Shuffle(len(moves), func(i, j int) { moves[i], moves[j] = moves[j], moves[i] })
	for _, m := range moves {
		after := pos.After(m)
		if isQuiet(pos, m) && slices.ContainsFunc(after.LegalMoves(nil), func(n chess.Move) bool { return isQuiet(&after, n) }) {
			return m, true
		}
	}
	return 0, false
}

func isQuiet(pos *chess.Position, m chess.Move) bool {
	_, sq := pos.Captured(m)
	return sq == chess.NoSquare && m.Promotion() == chess.NoKind
}

// A motor too slow for the speed in the rig file falls behind in the simulated
// machine at that speed, and keeps up at the planner's.
func TestSlowMotorKeepsUpAtThePlannedSpeed(t *testing.T) {
	r := rig.Default()
	r.Axis.Y.Motor.FreeSpeed, r.Axis.Y.Motor.StallTorque = unit.RPM(150), 0.06
	for _, hurried := range []bool{false, true} {
		b := newBench(t, r, "4k3/8/3r4/8/8/8/8/4K3 b - - 0 1", 0)
		pos, err := chess.ParseFEN("4k3/8/3r4/8/8/8/8/4K3 b - - 0 1")
		must(t, err)
		m, err := pos.ParseUCI("d6d1")
		must(t, err)
		plan, err := b.planner.Move(context.Background(), b.scene(b.gearing.Carriage(frame.Spot[frame.Machine]{})), pos, m)
		must(t, err)
		for i := range plan.Steps {
			if s := &plan.Steps[i]; hurried && s.Speed > 0 {
				s.Speed, s.Accel = r.Axis.Y.Speed, r.Axis.Y.Acceleration
			}
		}
		b.run(plan)
		if stalls := b.world.Truth().Counters.Stalls; (stalls > 0) != hurried || (b.lags > 0) != hurried {
			t.Errorf("hurried %v at up to %v: %d stalls, %d told", hurried, plan.Steps[2].Speed, stalls, b.lags)
		}
	}
}

// off is how far from the middle of a square its piece stands.
func (b *bench) off(sq chess.Square) float64 {
	for _, m := range b.world.Truth().Pieces {
		if m.OnBoard && m.Square == sq {
			return m.At.Distance(b.planner.Centre(sq))
		}
	}
	b.t.Fatalf("nobody stands on %v", sq)
	return 0
}

// withTrays is the default machine with magnets in all bases, 5 mm ones that
// leave each other alone in a tray, and a tray beside each long edge.
func withTrays() *rig.Rig {
	r := both()
	r.Pieces.Magnet.Diameter = 0.005
	r.Board.Border = 0.060
	r.Removal = rig.Removal{Mode: "tray", Slots: 16, Gap: 0.040}
	r.Axis.X.Travel, r.Axis.X.Origin = 0.440, 0.220
	r.Walls.Left, r.Walls.Right = 0.260, 0.260
	return r
}

// Whole games carried by the machine for both sides, captured pieces to the
// trays, and then every piece back to where the next game begins: all of it
// planned from where the plans before said the pieces would be.
func TestGamesAndSetUpsInTheTwin(t *testing.T) {
	seed := uint64(31)
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 1))
	games, plies := 1, 30
	if long() {
		games, plies = 200, 80
	}
	r := withTrays()
	moves, worst, asides := 0, 0.0, 0
	var ratios []float64 // time of a set-up over its bound
	for g := range games {
		b := newBench(t, r, "", 0.03)
		pos := chess.Start()
		s := b.scene(b.gearing.Carriage(frame.Spot[frame.Machine]{}))
		first := b.offs(pos)
		for range plies {
			m, ok := casual(t, &pos, rnd)
			if !ok {
				break
			}
			plan, err := b.planner.Move(context.Background(), s, pos, m)
			must(t, err)
			b.run(plan)
			b.clean(pos.FEN() + " " + m.String())
			s, pos, moves, asides = b.planner.After(s, plan), pos.After(m), moves+1, asides+plan.Asides
		}
		plan, bound, err := b.planner.SetUp(context.Background(), s)
		must(t, err)
		b.run(plan)
		b.clean("set-up from " + pos.FEN())
		ratios = append(ratios, float64(plan.Time)/bound)
		if g%20 == 19 {
			t.Logf("%d games, nothing noted", g+1)
		}
		start := chess.Start()
		truth := b.world.Truth()
		for sq := chess.Square(0); sq < 64; sq++ {
			if truth.Squares[sq] != start.At(sq) {
				t.Fatalf("game %d: after the set-up %v holds %v", g+1, sq, truth.Squares[sq])
			}
		}
		for sq, off := range b.offs(start) {
			if math.Abs(off-first[sq]) > 1e-5 { // it was carried since people put it
				worst = math.Max(worst, off)
			}
		}
	}
	if worst > 0.03*float64(r.Board.Square) {
		t.Errorf("a carried piece stands %.2f mm off after the set-up", worst*1e3)
	}
	slices.Sort(ratios)
	t.Logf("%d games, %d moves, %d step-asides, %d set-ups; worst piece carried %.2f mm off; set-up time over the lower bound %.3f in the middle, %.3f at most",
		games, moves, asides, games, worst*1e3, ratios[games/2], ratios[games-1])
}

// offs is how far each piece stands from the middle of its square.
func (b *bench) offs(pos chess.Position) map[chess.Square]float64 {
	out := map[chess.Square]float64{}
	for sq := chess.Square(0); sq < chess.NoSquare; sq++ {
		if pos.At(sq) != chess.NoPiece {
			out[sq] = b.off(sq)
		}
	}
	return out
}

// casual is a move of a casual player, not a promotion.
func casual(t *testing.T, pos *chess.Position, rnd *rand.Rand) (chess.Move, bool) {
	t.Helper()
	if len(pos.LegalMoves(nil)) == 0 {
		return 0, false
	}
	m, err := search.Casual(search.Root{Position: *pos}, rnd, rnd.Float64())
	must(t, err)
	return m, m.Promotion() == chess.NoKind
}

// A captured piece carried to the trapdoor is gone, and the taker stands there.
func TestChuteInTheTwin(t *testing.T) {
	r := both()
	r.Removal.Mode = "chute"
	r.Removal.Chute[0] = 0.190
	r.Board.Border = 0.050
	r.Axis.X.Travel, r.Axis.X.Origin = 0.420, 0.210
	r.Walls.Left, r.Walls.Right = 0.250, 0.250
	b := newBench(t, r, "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", 0.03)
	pos, err := chess.ParseFEN("rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2")
	must(t, err)
	m, err := pos.ParseUCI("d5e4")
	must(t, err)
	s := b.scene(b.gearing.Carriage(frame.Spot[frame.Machine]{}))
	plan, err := b.planner.Move(context.Background(), s, pos, m)
	must(t, err)
	if plan.Asks() > 0 {
		t.Fatalf("the plan asks: %+v", plan.Steps)
	}
	b.run(plan)
	b.clean("down the chute") // nor is a piece through the trapdoor a slip
	on := 0
	for _, m := range b.world.Truth().Pieces {
		if m.OnBoard {
			on++
		}
	}
	after := pos.After(m)
	if truth := b.world.Truth(); on != 31 || truth.Squares[m.To()] != after.At(m.To()) {
		t.Errorf("%d pieces stand on the board, %v on %v", on, truth.Squares[m.To()], m.To())
	}
}
