// SPDX-License-Identifier: Apache-2.0

package person

import (
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/twin/physics"
)

// request hears that something is asked for, and does it. A guest who is at
// work on that very thing goes on; one who has done it, or has made a move that
// the machine does not take, says so after the second time.
func (p *Person) request(n notice.Notice) error {
	what := fmt.Sprint(n.Kind, n.Piece, n.Squares, n.FEN, n.Acts, n.Slot != nil)
	if p.doing == what && len(p.script.beats) > 0 {
		return nil
	}
	if p.objects(n) {
		return nil
	}
	p.doing = what
	switch n.Kind {
	case notice.PleaseTake:
		p.slot = n.Slot
		p.take(n.Squares)
	case notice.PleasePut:
		return p.put(n)
	case notice.PleaseMend:
		return p.mend(n)
	}
	return nil
}

// put fetches a piece of the kind asked for and stands it on the square.
func (p *Person) put(n notice.Notice) error {
	if len(n.Squares) == 0 {
		p.fillSlot(n)
		return nil
	}
	s := n.Squares[0]
	want, err := placement(n.FEN)
	if err != nil {
		return err
	}
	p.pause(setOut, 0)
	if b := p.find(s); b != nil && b.Piece != n.Piece {
		p.take(n.Squares[:1])
	}
	spare := p.spare(n.Piece, s, want)
	p.fetch(func() *physics.Piece { return spare })
	p.toSquare(s)
	p.withdraw()
	return nil
}

// isDone says whether the guest sees done what a notice asks for.
func (p *Person) isDone(n notice.Notice) bool {
	if want, err := placement(n.FEN); err == nil && want != nil && n.Kind == notice.PleaseMend {
		return p.isSet(*want) && p.isFilled(n)
	}
	switch {
	case n.Kind == notice.PleaseTake:
		for _, s := range n.Squares {
			if p.find(s) != nil {
				return false
			}
		}
		return true
	case n.Kind == notice.PleasePut && len(n.Squares) > 0:
		return p.holds(n.Squares[0], n.Piece, seenAskew)
	}
	for _, s := range n.Squares {
		if b := p.find(s); b == nil || !p.holds(s, b.Piece, straight) {
			return false
		}
	}
	for _, a := range n.Acts {
		if a.To < chess.NoSquare && !p.holds(a.To, a.Piece, seenAskew) || a.To != a.From && a.From < chess.NoSquare && p.holds(a.From, a.Piece, 1) {
			return false
		}
	}
	return p.isFilled(n)
}

// holds says whether a piece of that kind stands on a square, no farther off
// its middle than a share of the square.
func (p *Person) holds(s chess.Square, piece chess.Piece, off float64) bool {
	b := p.find(s)
	return b != nil && b.Piece == piece && !b.Fallen && b.At.Distance(p.table.Centre(s)) < off*float64(p.rig.Board.Square)
}

// isSet says whether the board shows a position and nothing else, and nothing
// lies in the tray.
func (p *Person) isSet(pos chess.Position) bool {
	good, missing := p.compare(pos)
	for _, b := range p.table.Pieces {
		if b.Place == physics.OnBoard && !good[b] && (!p.table.IsTrayed(b) || b.Fallen) {
			return false
		}
	}
	return len(missing) == 0
}

// forSlot is the piece that a notice wants in its slot.
func forSlot(n notice.Notice) (chess.Piece, chess.Square, bool) {
	if n.Slot == nil {
		return chess.NoPiece, chess.NoSquare, false
	}
	for _, a := range n.Acts {
		if a.To >= chess.NoSquare {
			return a.Piece, a.From, true
		}
	}
	return n.Piece, chess.NoSquare, n.Piece != chess.NoPiece
}

// isFilled says whether the slot of a notice holds its piece, as near to the
// middle as the person would stand it.
func (p *Person) isFilled(n notice.Notice) bool {
	piece, _, ok := forSlot(n)
	if !ok {
		return true
	}
	b := p.inSlot(*n.Slot)
	return b != nil && b.Piece == piece && !b.Fallen && b.At.Distance(*n.Slot) < 3*putSigma*float64(p.rig.Board.Square)
}

// inSlot is the piece that stands or lies in a tray slot.
func (p *Person) inSlot(slot frame.Spot[frame.Board]) *physics.Piece {
	near := physics.SlotReach * float64(p.rig.Board.Square)
	return p.nearest(slot, func(b *physics.Piece) bool { return b.Place == physics.OnBoard && b.At.Distance(slot) < near })
}

// fillSlot stands the piece that a notice names in its slot: the one on the
// square named, else one that lies about or is not in play. Another piece that
// stands there is taken away first.
func (p *Person) fillSlot(n notice.Notice) {
	piece, from, ok := forSlot(n)
	if !ok || p.isFilled(n) {
		return
	}
	slot := *n.Slot
	if b := p.inSlot(slot); b != nil && b.Piece != piece {
		p.fetch(func() *physics.Piece { return b })
		p.slot = nil
		p.offBoard()
	}
	b := p.find(from)
	if from >= chess.NoSquare || b == nil || b.Piece != piece {
		b = p.loose(piece, slot)
	}
	p.fetch(func() *physics.Piece { return b })
	p.slot = &slot
	p.offBoard()
	p.withdraw()
}

// loose is a piece of that kind that belongs nowhere: the nearest that stands or
// lies beside the squares and slots, or on a square where the game has none of
// its kind, else one from the table or the box.
func (p *Person) loose(piece chess.Piece, at frame.Spot[frame.Board]) *physics.Piece {
	near := physics.SlotReach * float64(p.rig.Board.Square)
	astray := func(b *physics.Piece) bool {
		if b.Piece != piece || b.Place != physics.OnBoard {
			return false
		}
		s := p.table.Square(b)
		return b.At.Distance(at) < near || s == chess.NoSquare && !p.table.IsTrayed(b) || s != chess.NoSquare && p.game.At(s) != piece
	}
	if b := p.nearest(at, astray); b != nil {
		return b
	}
	return p.boxed(piece)
}

// pickUp stands a piece up again that lies in a tray slot.
func (p *Person) pickUp(b *physics.Piece) {
	slot := p.table.Slots()[0]
	for _, s := range p.table.Slots() {
		if b.At.Distance(s) < b.At.Distance(slot) {
			slot = s
		}
	}
	p.fetch(func() *physics.Piece { return b })
	p.place(func() (frame.Spot[frame.Board], float64) { return slot, 0 }, p.table.Stand)
}

// doActs does the single things that a notice without a position asks for.
func (p *Person) doActs(n notice.Notice) {
	busy := false
	for _, a := range n.Acts {
		switch {
		case a.To < chess.NoSquare && a.To != a.From && !p.holds(a.To, a.Piece, seenAskew):
			b := p.find(a.From)
			if a.From >= chess.NoSquare || b == nil || b.Piece != a.Piece {
				b = p.spare(a.Piece, a.To, nil)
			}
			p.fetch(func() *physics.Piece { return b })
			p.toSquare(a.To)
			busy = true
		case a.To >= chess.NoSquare && n.Slot == nil && a.From < chess.NoSquare && p.find(a.From) != nil:
			p.fetch(func() *physics.Piece { return p.find(a.From) })
			p.slot = nil
			p.offBoard()
			busy = true
		}
	}
	if busy {
		p.withdraw()
	}
	p.fillSlot(n)
}
