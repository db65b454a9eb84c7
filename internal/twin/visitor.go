package twin

import (
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/physics"
)

// Visitor moves men on the twin's table for somebody at a screen: through a
// hand, as everybody else, so that the camera sees it happen. What is asked for
// while the hand is at work is done afterwards, in order.
type Visitor struct{ w *World }

// Visitor gives the handle for a person at a screen.
func (w *World) Visitor() *Visitor { return &Visitor{w} }

// MoveMan takes the man on from and puts him on to, a man standing there
// first taken off; to = NoSquare takes him off the board. It is an error when no
// piece will stand on from once everything asked for before is done.
func (v *Visitor) MoveMan(from, to chess.Square) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	p := v.w.person
	defer p.proceed()
	if err := p.shift(from, to); err != nil || from == to {
		return err
	}
	p.enqueue(func() {
		if to != chess.NoSquare && p.find(to) != nil {
			p.takeOff(to)
		}
		if to == chess.NoSquare {
			p.takeOff(from)
		} else {
			p.fetch(func() *physics.Piece { return p.find(from) })
			p.toSquare(to)
		}
		p.withdraw()
	})
	return nil
}

// shift follows what a move of one piece makes of the expected squares.
func (p *person) shift(from, to chess.Square) error {
	squares := p.expected()
	if from >= chess.NoSquare || squares[from] == chess.NoPiece {
		return fmt.Errorf("no man stands on %s", from)
	}
	piece := squares[from]
	squares[from] = chess.NoPiece
	if to < chess.NoSquare {
		squares[to] = piece
	}
	return nil
}

// takeOff takes the man off a square: one of the machine's goes into the slot
// that the visitor was offered.
func (p *person) takeOff(s chess.Square) {
	b := p.find(s)
	if b == nil { // somebody was quicker
		return
	}
	p.fetch(func() *physics.Piece { return p.find(s) })
	if p.w.rig.Pieces.Carries(b.Piece.Color().String()) && b.Piece.Color() != p.side {
		p.slot, p.offer = p.offer, nil
	}
	p.offBoard()
}

// Offer tells the visitor in which slot of the tray to stand a man of the
// machine's that they take; nil: they keep him.
func (v *Visitor) Offer(slot *frame.Spot[frame.Board]) {
	v.w.mu.Lock()
	v.w.person.offer = slot
	v.w.mu.Unlock()
}

// PutMan stands a man of that kind, from beside the board or from the box, on
// a square; a man standing there is taken off first.
func (v *Visitor) PutMan(piece chess.Piece, on chess.Square) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	if piece == chess.NoPiece || on >= chess.NoSquare {
		return fmt.Errorf("name a man and a square; got %v on %v", piece, on)
	}
	p := v.w.person
	p.expected()[on] = piece
	p.enqueue(func() {
		if p.find(on) != nil {
			p.fetch(func() *physics.Piece { return p.find(on) })
			p.offBoard()
		}
		spare := p.fresh(piece, on)
		p.fetch(func() *physics.Piece { return spare })
		p.toSquare(on)
		p.withdraw()
	})
	return nil
}

// Stand stands the man on a square in a slot of the tray.
func (v *Visitor) Stand(from chess.Square, slot frame.Spot[frame.Board]) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	p := v.w.person
	defer p.proceed()
	if err := p.shift(from, chess.NoSquare); err != nil {
		return err
	}
	p.enqueue(func() {
		p.slot = &slot
		p.fetch(func() *physics.Piece { return p.find(from) })
		p.offBoard()
		p.withdraw()
	})
	return nil
}

// Arrange sets the men as a position has them.
func (v *Visitor) Arrange(fen string) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		return fmt.Errorf("the men cannot be set so: %w", err)
	}
	p := v.w.person
	squares := p.expected()
	for s := range squares {
		squares[s] = pos.At(chess.Square(s))
	}
	p.enqueue(func() { p.arrange(pos) })
	return nil
}

// Busy says whether the hand has still something to do over the table.
func (v *Visitor) Busy() bool {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.isBusy()
}
