// Package carry turns a game move into what the carriage does: travel, grip,
// carry, release, and what the guest is asked to do.
package carry

import (
	"context"
	"fmt"

	"boardhand/internal/carry/validate"
	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// Planner makes plans for one rig. It holds no state of a game and may be
// used from several goroutines.
type Planner struct {
	rig    *rig.Rig
	limits margins
	board  validate.Board
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
	p := &Planner{rig: r, limits: margins{l}, board: boardOf(r), side: s}
	p.taste = lanes.Taste{Room: roomShare * s, Longer: longerWays, Bend: bendShare * s, Suits: func(roomy, shortest lanes.Way) bool {
		return p.limits.dragTime(roomy) <= (1+slowerWays)*p.limits.dragTime(shortest)
	}}
	return p, nil
}

// boardOf is what the validator must know of the rig.
func boardOf(r *rig.Rig) validate.Board {
	m := r.Pieces
	return validate.Board{
		Square: float64(r.Board.Square),
		Base: map[chess.Kind]float64{chess.Pawn: float64(m.Pawn.Base), chess.Knight: float64(m.Knight.Base),
			chess.Bishop: float64(m.Bishop.Base), chess.Rook: float64(m.Rook.Base),
			chess.Queen: float64(m.Queen.Base), chess.King: float64(m.King.Base)},
		Magnets: map[chess.Color]bool{chess.White: m.Carries(chess.White.String()), chess.Black: m.Carries(chess.Black.String())},
	}
}

// Check has the plan replayed in the scene by the validator, which reports the
// first thing that would go wrong, with its time.
func (p *Planner) Check(s Scene, plan Plan) error { return p.validator().Check(s, plan) }

// CheckTo checks the plan and that it ends in the given position.
func (p *Planner) CheckTo(s Scene, plan Plan, after *chess.Position) error {
	return p.validator().CheckTo(s, plan, after)
}

func (p *Planner) validator() *validate.Validator { return validate.New(p.board, p.limits.Limits) }

// Limits are the numbers the planner works with.
func (p *Planner) Limits() Limits { return p.limits.Limits }

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
