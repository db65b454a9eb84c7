package carry

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// Planner makes plans for one rig. It holds no state of a game and may be
// used from several goroutines.
type Planner struct {
	rig    *rig.Rig
	limits Limits
	side   float64 // of a square, metres
	taste  lanes.Taste
}

// What makes a way look right. None has a source: common practice is to run
// along the square edges, that is through the middles of the gaps.
const (
	roomShare  = 0.12 // of a square: more extra room than this gains nothing
	longerWays = 0.08 // a roomier way may be this much longer than the shortest
	slowerWays = 0.05 // and take this much more time
	bendShare  = 0.10 // of a square: the detour that one bend fewer is worth
)

// NewPlanner returns a planner for the rig within the limits; LimitsOf
// computes them.
func NewPlanner(r *rig.Rig, l Limits) (*Planner, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	s := float64(r.Board.Square)
	if !(s > 0) {
		return nil, fmt.Errorf("board.square must be more than 0; got %v", r.Board.Square)
	}
	p := &Planner{rig: r, limits: l, side: s}
	p.taste = lanes.Taste{Room: roomShare * s, Longer: longerWays, Bend: bendShare * s, Suits: func(roomy, shortest lanes.Way) bool {
		return l.dragTime(roomy) <= (1+slowerWays)*l.dragTime(shortest)
	}}
	return p, nil
}

// Limits are the numbers the planner works with.
func (p *Planner) Limits() Limits { return p.limits }

// Centre is the centre of a square.
func (p *Planner) Centre(s chess.Square) lanes.Spot {
	return p.rig.Board.Centre(s.File(), s.Rank())
}

// Move plans one legal move from the position that stands on the board. What
// the machine cannot do itself it asks for; it never refuses a legal move.
func (p *Planner) Move(ctx context.Context, s Scene, pos chess.Position, m chess.Move) (Plan, error) {
	if !pos.Legal(m) {
		return Plan{}, fmt.Errorf("%v is not a legal move in %s", m, pos.FEN())
	}
	if err := fits(s, pos); err != nil {
		return Plan{}, err
	}
	after := pos.After(m)
	d := p.draft(s)
	if err := d.perform(ctx, &pos, m); err != nil {
		return Plan{}, err
	}
	return p.finish(s, d, &after, func(d *draft) { d.askForMove(&pos, m) })
}

// finish judges a plan that must end in a given position.
func (p *Planner) finish(s Scene, d *draft, after *chess.Position, hand func(*draft)) (Plan, error) {
	return p.judged(s, d, func(plan Plan) error { return p.CheckTo(s, plan, after) }, hand)
}

// judged has the independent checker look at the plan. Should it object, a
// person does what was wanted instead, and the objection stays on record.
func (p *Planner) judged(s Scene, d *draft, check func(Plan) error, hand func(*draft)) (Plan, error) {
	plan := d.plan()
	err := check(plan)
	if err == nil {
		return plan, nil
	}
	safe := p.draft(s)
	hand(safe)
	plan = safe.plan()
	plan.Doubt = err.Error()
	return plan, check(plan)
}

// fits says where the scene and the position differ.
func fits(s Scene, pos chess.Position) error {
	have, twice := bySquare(s.Men)
	if twice < chess.NoSquare {
		return fmt.Errorf("the scene has two men on %v: read the board again first", twice)
	}
	for sq := chess.Square(0); sq < 64; sq++ {
		switch want := pos.At(sq); {
		case have[sq] == want:
		case have[sq] == chess.NoPiece:
			return fmt.Errorf("the position has a %v on %v that the scene lacks: read the board again first", want, sq)
		default:
			return fmt.Errorf("the scene has a %v on %v, the position has it %v: read the board again first", have[sq], sq, want)
		}
	}
	return nil
}
