// SPDX-License-Identifier: Apache-2.0

// Package carry turns a game move into what the carriage does: travel, grip,
// carry, release, and what the guest is asked to do.
package carry

import (
	"fmt"

	"boardhand/internal/carry/validate"
	"boardhand/internal/chess"
	"boardhand/internal/game"
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

// piece is a fresh piece set on a square by hand.
func (p *Planner) piece(piece chess.Piece, sq chess.Square) Piece {
	return Piece{Piece: piece, Square: sq, At: p.Centre(sq), Sigma: game.HandSigma,
		Magnet: p.rig.Pieces.Carries(piece.Color().String()), Foot: p.foot(piece.Kind())}
}

func (p *Planner) foot(k chess.Kind) float64 { return p.board.Base[k] }
