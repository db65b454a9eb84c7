package carry_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
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
}

func long() bool { return os.Getenv("BOARDHAND_LONG") == "1" }

func newBench(t *testing.T, r *rig.Rig, fen string, placement float64) *bench {
	t.Helper()
	q, err := twin.NoQuirks(r)
	must(t, err)
	q.Placement = placement
	w, err := twin.New(r, twin.Options{Seed: 1, Quirks: &q, FEN: fen, Visitor: true})
	must(t, err)
	_, err = w.Gantry().Home(context.Background())
	must(t, err)
	l, err := carry.LimitsOf(r)
	must(t, err)
	p, err := carry.NewPlanner(r, l)
	must(t, err)
	return &bench{t, r, w, carry.NewGearing(r, r.MachineFromBoard()), p}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// scene is what a perfect eye would tell the planner.
func (b *bench) scene(at frame.Spot[frame.Board]) carry.Scene {
	s := carry.Scene{Carriage: at}
	for _, m := range b.world.Truth().Men {
		if m.OnBoard {
			s.Men = append(s.Men, b.planner.Stand(m.Piece, m.Square, m.At))
		}
	}
	return s
}

func (b *bench) run(plan carry.Plan) {
	b.t.Helper()
	ctx := context.Background()
	for _, s := range plan.Steps {
		switch s.Do {
		case carry.Travel, carry.Carry:
			_, err := b.world.Gantry().Move(ctx, b.gearing.Stroke(s))
			must(b.t, err)
		case carry.Grip, carry.Release:
			must(b.t, b.world.Gantry().Lift(ctx, s.Do == carry.Grip))
		case carry.Ask:
			b.t.Fatalf("the plan asks: %s", s.Text)
		}
	}
}

// clean fails when the umpire noted anything.
func (b *bench) clean(what string) {
	b.t.Helper()
	if c := b.world.Truth().Counters; c.Collisions+c.Slips+c.Drags+c.Stalls+c.Toppled > 0 {
		b.t.Fatalf("%s: the umpire noted %+v", what, c)
	}
}

func both() *rig.Rig {
	r := rig.Default()
	r.Pieces.Carried = "both"
	return r
}

func end(plan carry.Plan, at frame.Spot[frame.Board]) frame.Spot[frame.Board] {
	for _, s := range plan.Steps {
		if len(s.Path) > 0 {
			at = s.Path[len(s.Path)-1]
		}
	}
	return at
}

// Many moves on end, planned from where the plans before said the men would
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
	asides := 0
	for n := range moves {
		m, ok := quiet(&pos, rnd)
		if !ok {
			t.Logf("no quiet move left after %d", n)
			break
		}
		plan, err := b.planner.Move(context.Background(), s, pos, m)
		must(t, err)
		asides += plan.Asides
		b.run(plan)
		b.clean(m.String())
		s = b.planner.After(s, plan)
		pos = pos.After(m)
	}
	worst, square := 0.0, float64(b.rig.Board.Square)
	for _, m := range b.world.Truth().Men {
		if m.OnBoard {
			worst = math.Max(worst, m.At.Distance(b.planner.Centre(m.Square)))
			if pos.At(m.Square) != m.Piece {
				t.Errorf("%v stands on %v", m.Piece, m.Square)
			}
		}
	}
	t.Logf("%d moves, %d step-asides: worst man %.2f mm off centre, %.1f %% of the square", moves, asides, worst*1e3, 100*worst/square)
	if worst > 0.03*square {
		t.Errorf("a man ended %.2f mm off, 3 %% of the square is %.2f mm", worst*1e3, 30*square)
	}
}

// quiet is a legal move that takes nothing and does not promote.
func quiet(pos *chess.Position, rnd *rand.Rand) (chess.Move, bool) {
	moves := pos.LegalMoves(nil)
	rnd.Shuffle(len(moves), func(i, j int) { moves[i], moves[j] = moves[j], moves[i] })
	for _, m := range moves {
		after := pos.After(m)
		if _, sq := pos.Captured(m); sq == chess.NoSquare && m.Promotion() == chess.NoKind && len(after.LegalMoves(nil)) > 0 {
			return m, true
		}
	}
	return 0, false
}

var _ = unit.MM
