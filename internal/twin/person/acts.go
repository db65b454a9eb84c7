// SPDX-License-Identifier: Apache-2.0

package person

import (
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/physics"
)

// What a visitor has the hand do. What is asked for while it is at work is done
// afterwards, in order.

// Move takes the piece on from and puts it on to, a piece standing there first
// taken off; to = NoSquare takes it off the board. It is an error when no piece
// will stand on from once everything asked for before is done.
func (p *Person) Move(from, to chess.Square) error {
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
func (p *Person) shift(from, to chess.Square) error {
	squares := p.expected()
	if from >= chess.NoSquare || squares[from] == chess.NoPiece {
		return fmt.Errorf("no piece stands on %s", from)
	}
	piece := squares[from]
	squares[from] = chess.NoPiece
	if to < chess.NoSquare {
		squares[to] = piece
	}
	return nil
}

// takeOff takes the piece off a square: one of the machine's goes into the slot
// that the visitor was offered.
func (p *Person) takeOff(s chess.Square) {
	b := p.find(s)
	if b == nil { // somebody was quicker
		return
	}
	p.fetch(func() *physics.Piece { return p.find(s) })
	if p.rig.Pieces.Carries(b.Piece.Color().String()) && b.Piece.Color() != p.side {
		p.slot, p.offer = p.offer, nil
	}
	p.offBoard()
}

// Offer names the tray's slot for the next piece of the machine's that the
// visitor takes; nil: they keep it.
func (p *Person) Offer(slot *frame.Spot[frame.Board]) { p.offer = slot }

// Put stands a piece, from beside the board or from the box, on a square; a
// piece standing there is taken off first.
func (p *Person) Put(piece chess.Piece, on chess.Square) error {
	if piece == chess.NoPiece || on >= chess.NoSquare {
		return fmt.Errorf("name a piece and a square; got %v on %v", piece, on)
	}
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

// Stand stands the piece on a square in a slot of the tray.
func (p *Person) Stand(from chess.Square, slot frame.Spot[frame.Board]) error {
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

// Arrange sets the pieces as a position has them.
func (p *Person) Arrange(fen string) error {
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		return fmt.Errorf("the pieces cannot be set so: %w", err)
	}
	squares := p.expected()
	for s := range squares {
		squares[s] = pos.At(chess.Square(s))
	}
	p.enqueue(func() { p.arrange(pos) })
	return nil
}
