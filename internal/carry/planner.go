// SPDX-License-Identifier: Apache-2.0

// Package carry turns a game move into what the carriage does: travel, grip,
// carry, release, and what the guest is asked to do.
package carry

import (
	"fmt"

	"boardhand/internal/carry/limits"
	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/validate"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// Planner makes plans for one rig. It holds no state of a game and may be
// used from several goroutines.
type Planner struct {
	rig     *rig.Rig
	limits  margins
	squares game.Board
	kinds   *game.Kinds
	start   game.Layout // where the pieces of a new game stand
	isShown bool        // that is not as people know it: they look at the plan
	board   validate.Board
	side    float64 // of a square, metres
	taste   lanes.Taste
}

// Game is what the planner must know of a game: how many squares its board has,
// of which kinds its pieces are and where they start.
type Game struct {
	Files, Ranks int
	Kinds        game.Kinds
	Start        game.Layout
}

// NewPlannerFor returns a planner for a game whose board is in the middle of the
// rig's field, with squares and pieces of the rig, within what its machine can do.
func NewPlannerFor(g Game, r *rig.Rig) (*Planner, error) {
	l, err := limits.Of(r)
	if err == nil {
		err = l.Check()
	}
	if err != nil {
		return nil, err
	}
	p := &Planner{rig: r, limits: margins{l}, side: float64(r.Board.Square), start: g.Start, kinds: r.Pieces.Kinds(),
		squares: game.Board{Files: g.Files, Ranks: g.Ranks, Square: float64(r.Board.Square)}}
	if err := p.squares.Check(); err != nil {
		return nil, fmt.Errorf("board.square or the game does not fit: %w", err)
	}
	if err := r.Plays(p.squares, &g.Kinds); err != nil {
		return nil, err
	}
	p.board = boardOf(r, p.squares)
	s := p.side
	p.taste = lanes.Taste{Room: roomShare * s, Longer: longerPaths, Bend: bendShare * s, Suits: func(roomy, shortest lanes.Path) bool {
		return p.limits.dragTime(roomy) <= (1+slowerPaths)*p.limits.dragTime(shortest)
	}}
	return p, nil
}

// boardOf is what the validator must know of rig and game.
func boardOf(r *rig.Rig, squares game.Board) validate.Board {
	b := validate.Board{Squares: squares, Kinds: *r.Pieces.Kinds(), Base: map[game.Kind]float64{}, Magnets: map[game.Color]bool{}}
	for _, k := range r.Pieces.Kinds().All() {
		b.Base[k] = float64(r.Pieces.Of(k).Across())
	}
	for _, c := range [2]game.Color{game.White, game.Black} {
		b.Magnets[c] = r.Pieces.Carries(c.String())
	}
	return b
}

// Check has the plan replayed in the scene by the validator, which reports the
// first thing that would go wrong, with its time.
func (p *Planner) Check(s plan.Scene, made plan.Plan) error { return p.validator().Check(s, made) }

// CheckTo checks the plan and that it ends in the given position.
func (p *Planner) CheckTo(s plan.Scene, made plan.Plan, after game.Layout) error {
	return p.validator().CheckTo(s, made, after)
}

func (p *Planner) validator() *validate.Validator { return validate.New(p.board, p.limits.Limits) }

// Limits are the numbers the planner works with.
func (p *Planner) Limits() plan.Limits { return p.limits.Limits }

// Centre is the centre of a square.
func (p *Planner) Centre(s game.Square) lanes.Spot {
	return p.squares.Centre(s)
}

// piece is a fresh piece set on a square by hand.
func (p *Planner) piece(piece game.Piece, sq game.Square) plan.Piece {
	return plan.Piece{Piece: piece, Square: sq, At: p.Centre(sq), Sigma: game.HandSigma,
		Magnet: p.rig.Pieces.Carries(piece.Color().String()), Base: p.base(piece.Kind())}
}

func (p *Planner) base(k game.Kind) float64 { return p.board.Base[k] }
