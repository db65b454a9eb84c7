// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
)

// Stand is a piece of this rig at an exactly known place.
func (p *Planner) Stand(piece game.Piece, sq game.Square, at lanes.Spot) plan.Piece {
	m := p.piece(piece, sq)
	m.At, m.Sigma = at, 0
	return m
}

// bySquare is who stands on each square. Two pieces on one are an error.
func bySquare(pieces []plan.Piece) (have game.Setting, err error) {
	for _, m := range pieces {
		if m.Square >= game.NoSquare {
			continue
		}
		if have[m.Square] != game.NoPiece {
			err = fmt.Errorf("the scene has two pieces on %v: read the board again first", m.Square)
		}
		have[m.Square] = m.Piece
	}
	return have, err
}

// After is the scene once a plan has been carried out.
func (p *Planner) After(s plan.Scene, made plan.Plan) plan.Scene {
	d := p.builder(s)
	held := -1
	for _, step := range made.Steps {
		switch step.Do {
		case plan.Grip:
			held = d.under(step.Piece)
		case plan.Carry:
			if held >= 0 && len(step.PiecePath) > 0 {
				m := &d.pieces[held]
				m.At, m.Square, m.Sigma = step.PiecePath[len(step.PiecePath)-1], step.To, p.limits.arrival()
			}
		case plan.Ask:
			for _, one := range step.Single() {
				d.answered(one)
			}
		}
		if len(step.Path) > 0 {
			d.at = step.Path[len(step.Path)-1]
		}
	}
	return plan.Scene{Pieces: d.fallen(), Carriage: d.at}
}

// under is the piece of that piece nearest to the carriage, or −1.
func (d *builder) under(piece game.Piece) int {
	best := -1
	for k, m := range d.pieces {
		if m.Piece == piece && (best < 0 || m.At.Distance(d.at) < d.pieces[best].At.Distance(d.at)) {
			best = k
		}
	}
	return best
}

// answered is what a person did.
func (d *builder) answered(s plan.Step) {
	k := d.on(s.From)
	switch {
	case s.From >= game.NoSquare:
		d.placed(s.Piece, s.To)
	case k < 0:
	case s.To >= game.NoSquare:
		d.remove(k)
	default:
		d.pieces[k].At, d.pieces[k].Square, d.pieces[k].Sigma = d.p.Centre(s.To), s.To, game.HandSigma
	}
}

// placed is a piece put on a square by a person, who takes the nearest one of
// that kind from the tray, if one stands there; a piece on the square goes off.
func (d *builder) placed(piece game.Piece, sq game.Square) {
	if on := d.on(sq); on >= 0 {
		d.remove(on)
	}
	if k := d.beside(piece, sq); k >= 0 {
		d.remove(k)
	}
	d.pieces = append(d.pieces, d.p.piece(piece, sq))
}

// beside is the piece of that piece beside the board that stands nearest to a
// square, or −1.
func (d *builder) beside(piece game.Piece, sq game.Square) int {
	best, c := -1, d.p.Centre(sq)
	for k, m := range d.pieces {
		if m.Square == game.NoSquare && m.Piece == piece && (best < 0 || m.At.Distance(c) < d.pieces[best].At.Distance(c)) {
			best = k
		}
	}
	return best
}

// fallen is the pieces without those that went down the chute.
func (d *builder) fallen() []plan.Piece {
	if d.p.rig.Removal.Mode != "chute" {
		return d.pieces
	}
	c := d.p.rig.Removal.Chute
	hole := lanes.Spot{X: float64(c[0]), Y: float64(c[1])}
	out := d.pieces[:0]
	for _, m := range d.pieces {
		if m.At.Distance(hole) > 1e-6 {
			out = append(out, m)
		}
	}
	return out
}
