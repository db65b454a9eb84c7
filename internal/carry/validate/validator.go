// SPDX-License-Identifier: Apache-2.0

// Package validate checks plans before they run, apart from whoever made
// them: distances and motions are worked out here afresh, and a piece's path
// is not believed but followed behind the magnet. It knows plans and limits,
// and nothing of the planner.
package validate

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/game"
)

// spot is a place on the board plane, metres.
type spot = frame.Spot[frame.Board]

// Board is what stands under the plans: its squares and its set of pieces.
type Board struct {
	Squares game.Board
	Kinds   game.Kinds
	Base    map[game.Kind]float64 // diameters, metres
	Magnets map[game.Color]bool   // whose bases hold magnets
}

// Validator checks plans for one board within limits. It holds no state of a
// game and may be used from several goroutines.
type Validator struct {
	board  Board
	limits plan.Limits
}

// New returns a validator for plans on that board.
func New(b Board, l plan.Limits) *Validator { return &Validator{board: b, limits: l} }

// Check replays the plan in the scene and reports the first thing that would
// go wrong, with its time: a base touching another, a neighbour dragged, a
// path out of reach, a piece not where the next step expects it.
func (v *Validator) Check(s plan.Scene, p plan.Plan) error {
	_, err := v.replay(s, p)
	return err
}

// CheckTo checks the plan and that it ends in the given position.
func (v *Validator) CheckTo(s plan.Scene, p plan.Plan, after game.Layout) error {
	r, err := v.replay(s, p)
	if err != nil {
		return err
	}
	return r.ends(after)
}

// replay is a plan being replayed.
type replay struct {
	board  Board
	limits plan.Limits
	pieces []plan.Piece
	at     spot
	held   int // index of the gripped piece, −1: none
	moved  []bool
	clock  float64 // seconds since the plan began
	driven []spot  // sample by sample: the carriage's places in the present step
	trail  []spot  // and the held piece's
}

func (v *Validator) replay(s plan.Scene, p plan.Plan) (*replay, error) {
	r := &replay{board: v.board, limits: v.limits, pieces: append([]plan.Piece(nil), s.Pieces...), at: s.Carriage, held: -1, moved: make([]bool, len(s.Pieces))}
	for n, step := range p.Steps {
		if err := r.step(step); err != nil {
			return r, fmt.Errorf("step %d (%s), %.2f s: %w", n+1, step.Do, r.clock, err)
		}
		r.clock += float64(step.Time)
	}
	if r.held >= 0 {
		return r, fmt.Errorf("the plan ends with the %s still held", r.name(r.held))
	}
	return r, nil
}

// set is a piece set on a square by hand.
// name is what people call piece k.
func (r *replay) name(k int) string { return r.board.Kinds.NameOf(r.pieces[k].Piece) }

func (r *replay) set(piece game.Piece, sq game.Square) plan.Piece {
	return plan.Piece{Piece: piece, Square: sq, At: r.board.Squares.Centre(sq), Sigma: game.HandSigma,
		Magnet: r.board.Magnets[piece.Color()], Base: r.board.Base[piece.Kind()]}
}

func (r *replay) step(s plan.Step) error {
	switch s.Do {
	case plan.Travel:
		return r.travel(s)
	case plan.Grip:
		return r.grip(s)
	case plan.Carry:
		return r.carry(s)
	case plan.Release:
		return r.release()
	case plan.Ask:
		return r.askedAll(s)
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

func (r *replay) travel(s plan.Step) error {
	if r.held >= 0 {
		return fmt.Errorf("travel with the %s still held", r.name(r.held))
	}
	if err := r.drive(s, r.limits.Travel); err != nil {
		return err
	}
	for k := range r.pieces {
		if err := r.undisturbed(k, s, r.limits.LoweredPass, 0); err != nil {
			return err
		}
	}
	return nil
}

// undisturbed says whether standing piece k keeps still while the magnet passes.
func (r *replay) undisturbed(k int, s plan.Step, safe, spread float64) error {
	m := r.pieces[k]
	if !m.Magnet || safe == 0 {
		return nil
	}
	place := r.limits.Placement
	need := safe + math.Sqrt(spread*spread+place*place+4*m.Sigma*m.Sigma)
	first, last := s.Path[0], s.Path[len(s.Path)-1]
	need = math.Min(need, math.Min(distance(m.At, first), distance(m.At, last))-r.limits.Lag)
	d, when := closest(r.driven, m.At)
	if d < need-slack {
		return fmt.Errorf("at %.2f s the magnet passes the %s on %v at %.2f mm: it would be dragged, %.2f mm is safe",
			r.clock+moment(s, when), r.name(k), m.Square, d*1e3, need*1e3)
	}
	return nil
}

func (r *replay) grip(s plan.Step) error {
	if r.held >= 0 {
		return fmt.Errorf("grip while the %s is held", r.name(r.held))
	}
	for k, m := range r.pieces {
		if m.Piece == s.Piece && distance(m.At, r.at) <= joint {
			if !m.Magnet {
				return fmt.Errorf("the %s on %v holds no magnet", r.name(k), m.Square)
			}
			r.held = k
			return nil
		}
	}
	return fmt.Errorf("no %s stands over the carriage at %s", r.board.Kinds.NameOf(s.Piece), mm(r.at))
}

func (r *replay) release() error {
	if r.held < 0 {
		return fmt.Errorf("nothing is held")
	}
	r.held = -1
	return nil
}

func (r *replay) carry(s plan.Step) error {
	if r.held < 0 {
		return fmt.Errorf("nothing is held")
	}
	l := r.limits
	if err := r.drive(s, l.Carry); err != nil {
		return err
	}
	if err := r.follows(s); err != nil {
		return err
	}
	for k := range r.pieces {
		if k == r.held {
			continue
		}
		if err := r.untouched(k, s); err != nil {
			return err
		}
		if err := r.undisturbed(k, s, l.SafePass, l.SafeSpread); err != nil {
			return err
		}
	}
	return r.put(s)
}

// follows drags the held piece behind the magnet by the lag and compares where
// it goes with where the plan says.
func (r *replay) follows(s plan.Step) error {
	p, lag := r.pieces[r.held].At, r.limits.Lag
	if len(s.PiecePath) < 2 || distance(s.PiecePath[0], p) > joint {
		return fmt.Errorf("the piece's path does not start at the piece, %s", mm(p))
	}
	r.trail = append(r.trail[:0], p)
	for i := 1; i < len(r.driven); i++ {
		a, b := r.driven[i-1], r.driven[i]
		n := int(distance(a, b)/followStep) + 1
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			cx, cy := a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)
			if d := math.Hypot(cx-p.X, cy-p.Y); d > lag {
				p.X, p.Y = cx+(p.X-cx)*lag/d, cy+(p.Y-cy)*lag/d
			}
			if d, _ := closest(s.PiecePath, p); d > slack {
				return fmt.Errorf("the piece strays %.2f mm from its path near %s", d*1e3, mm(p))
			}
		}
		r.trail = append(r.trail, p)
	}
	if end := s.PiecePath[len(s.PiecePath)-1]; distance(p, end) > r.limits.LagSpread+slack {
		return fmt.Errorf("the piece ends at %s, not at %s", mm(p), mm(end))
	}
	return nil
}

// untouched says whether the held piece's base clears standing piece k all along.
func (r *replay) untouched(k int, s plan.Step) error {
	held, m, l := r.pieces[r.held], r.pieces[k], r.limits
	bases := held.Base/2 + m.Base/2
	need := bases + math.Sqrt(l.Placement*l.Placement+l.LagSpread*l.LagSpread+4*m.Sigma*m.Sigma)
	if m.Magnet {
		need = math.Max(need, l.Apart) // two foot magnets push each other
	}
	start := distance(m.At, held.At)
	end := distance(m.At, s.PiecePath[len(s.PiecePath)-1])
	need = math.Max(math.Min(need, math.Min(start, end)), math.Min(start, bases))
	d, when := closest(r.trail, m.At)
	if d < need-slack {
		return fmt.Errorf("at %.2f s the %s passes the %s on %v with %.2f mm between the bases; %.2f mm is needed",
			r.clock+moment(s, when), r.name(r.held), r.name(k), m.Square, (d-bases)*1e3, (need-bases)*1e3)
	}
	return nil
}

// put sets the held piece down where its path ends.
func (r *replay) put(s plan.Step) error {
	end := s.PiecePath[len(s.PiecePath)-1]
	sheet := r.limits.Sheet
	if end.X < sheet.Min.X-joint || end.X > sheet.Max.X+joint || end.Y < sheet.Min.Y-joint || end.Y > sheet.Max.Y+joint {
		return fmt.Errorf("the piece would end off the sheet at %s", mm(end))
	}
	m := &r.pieces[r.held]
	m.At, m.Square, m.Sigma = end, s.To, r.arrival()
	r.moved[r.held] = true
	return nil
}

// arrival is the standard deviation of a carried piece's place: errors of
// placement and lag are limits, two deviations each.
func (r *replay) arrival() float64 {
	return r.limits.Placement/2 + r.limits.LagSpread/2
}
