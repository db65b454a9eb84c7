// SPDX-License-Identifier: Apache-2.0

package validate

import (
	"fmt"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// asked does in the replayed scene what a person was asked to do.
func (r *replay) asked(s plan.Step) error {
	if r.held >= 0 {
		return fmt.Errorf("a person is asked to reach in while the %s is held", r.name(r.held))
	}
	if s.Text == "" {
		return fmt.Errorf("a question without words")
	}
	if s.From >= game.NoSquare {
		if k := r.on(s.To); k >= 0 {
			r.takeAway(k)
		}
		r.pieces, r.moved = append(r.pieces, r.set(s.Piece, s.To)), append(r.moved, true)
		return nil
	}
	k := r.on(s.From)
	if k < 0 || r.pieces[k].Piece != s.Piece {
		return fmt.Errorf("there is no %s on %v to ask about", r.board.Kinds.NameOf(s.Piece), s.From)
	}
	if s.To >= game.NoSquare {
		r.takeAway(k)
		return nil
	}
	if o := r.on(s.To); o >= 0 && o != k {
		return fmt.Errorf("the %s still stands on %v", r.name(o), s.To)
	}
	r.pieces[k].Square, r.pieces[k].At, r.pieces[k].Sigma = s.To, r.board.Squares.Centre(s.To), game.HandSigma
	r.moved[k] = true
	return nil
}

// askedAll does everything a question asks for.
func (r *replay) askedAll(s plan.Step) error {
	for _, one := range s.Single() {
		if err := r.asked(one); err != nil {
			return err
		}
	}
	return nil
}

// on is the index of the piece on a square, or −1.
func (r *replay) on(sq game.Square) int {
	for k, m := range r.pieces {
		if m.Square == sq && sq < game.NoSquare {
			return k
		}
	}
	return -1
}

// takeAway takes piece k out of the scene.
func (r *replay) takeAway(k int) {
	r.pieces = append(r.pieces[:k], r.pieces[k+1:]...)
	r.moved = append(r.moved[:k], r.moved[k+1:]...)
}

// ends compares the replayed scene with a position: every piece that was moved
// near the middle of its square, every square as the position has it.
func (r *replay) ends(want game.Layout) error {
	have, twice := squares(r.pieces)
	if twice < game.NoSquare {
		return fmt.Errorf("two pieces would stand on %v", twice)
	}
	for k, m := range r.pieces {
		if m.Square >= game.NoSquare || !r.moved[k] {
			continue
		}
		if !r.board.Squares.Has(m.Square) {
			return fmt.Errorf("the %s would stand on %v, which is no square of this board", r.name(k), m.Square)
		}
		if off := distance(m.At, r.board.Squares.Centre(m.Square)); off > offCentre*r.board.Squares.Square {
			return fmt.Errorf("the %s would end %.1f mm off the middle of %v", r.name(k), off*1e3, m.Square)
		}
	}
	for _, sq := range r.board.Squares.Squares() {
		if have[sq] != want.At(sq) {
			return fmt.Errorf("%v would hold %s, not %s", sq, r.board.Kinds.NameOf(have[sq]), r.board.Kinds.NameOf(want.At(sq)))
		}
	}
	return nil
}

// squares is what stands on each square, and a square on which two pieces do;
// NoSquare when there is none.
func squares(pieces []plan.Piece) (have game.Setting, twice game.Square) {
	twice = game.NoSquare
	for _, m := range pieces {
		switch {
		case m.Square >= game.NoSquare:
			continue
		case have[m.Square] != game.NoPiece:
			twice = m.Square
		}
		have[m.Square] = m.Piece
	}
	return have, twice
}
