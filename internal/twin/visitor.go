package twin

import (
	"fmt"

	"boardhand/internal/chess"
)

// Visitor moves men on the twin's table for somebody at a screen: through a
// hand, as everybody else, so that the camera sees it happen.
type Visitor struct{ w *World }

// Visitor gives the handle for a person at a screen.
func (w *World) Visitor() *Visitor { return &Visitor{w} }

// MoveMan takes the man on from and puts him on to, a man standing there
// first taken off; to = NoSquare takes him off the board.
func (v *Visitor) MoveMan(from, to chess.Square) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	p := v.w.person
	if p.find(from) == nil {
		return fmt.Errorf("no man stands on %s", from)
	}
	if from == to {
		return nil
	}
	if to != chess.NoSquare && p.find(to) != nil {
		p.fetch(func() *body { return p.find(to) })
		p.offBoard()
	}
	p.fetch(func() *body { return p.find(from) })
	if to == chess.NoSquare {
		p.offBoard()
	} else {
		p.toSquare(to)
	}
	p.withdraw()
	return nil
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
	if p.find(on) != nil {
		p.fetch(func() *body { return p.find(on) })
		p.offBoard()
	}
	spare := p.boxed(piece)
	p.fetch(func() *body { return spare })
	p.toSquare(on)
	p.withdraw()
	return nil
}

// Busy says whether the hand is still over the table.
func (v *Visitor) Busy() bool {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return len(v.w.person.script.beats) > 0
}
