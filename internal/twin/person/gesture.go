// SPDX-License-Identifier: Apache-2.0

package person

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/physics"
	"boardhand/internal/twin/room"
)

// add puts a beat at the end of the script.
func (p *doer) add(b beat) { p.script.beats = append(p.script.beats, b) }

// pause waits without a hand.
func (p *doer) pause(t float64, looks int) { p.add(beat{time: t, looks: looks}) }

// then does something at the end of the last beat.
func (p *doer) then(do func()) {
	if len(p.script.beats) == 0 {
		do()
		return
	}
	b := &p.script.beats[len(p.script.beats)-1]
	before := b.finish
	b.finish = func() {
		if before != nil {
			before()
		}
		do()
	}
}

// withdraw takes the hand out of the picture.
func (p *doer) withdraw() { p.add(beat{time: reachTime, hand: true, to: p.hand.away()}) }

// fetch brings the hand to a piece and takes it. The piece is looked up when the
// hand sets out, since it may have moved.
func (p *doer) fetch(find func() *physics.Piece) {
	var held *physics.Piece
	p.add(beat{time: reachTime, hand: true, aim: func() frame.Point[frame.Board] {
		held = find()
		return above(held, overhead)
	}})
	p.add(beat{time: fingersTime, hand: true, aim: func() frame.Point[frame.Board] { return above(held, 0) },
		finish: func() { p.hand.grab(held) }})
	p.add(beat{time: fingersTime, hand: true, aim: func() frame.Point[frame.Board] { return above(held, overhead) }})
}

// above is a place h over the head of a piece.
func above(b *physics.Piece, h float64) frame.Point[frame.Board] {
	if b == nil {
		return frame.Point[frame.Board]{Z: overhead}
	}
	return b.At.At(b.Z + b.Height*gripHeight + h)
}

// place carries the piece in hand to a spot and puts it down.
func (p *doer) place(where func() (frame.Spot[frame.Board], float64), after func(*physics.Piece)) {
	over := func(h float64) func() frame.Point[frame.Board] {
		return func() frame.Point[frame.Board] {
			at, z := where()
			return at.At(z + p.hand.length() + h)
		}
	}
	p.add(beat{time: crossTime, hand: true, aim: over(overhead)})
	p.add(beat{time: fingersTime, hand: true, aim: over(0), finish: func() {
		b := p.hand.Holds
		if b == nil {
			return
		}
		at, z := where()
		p.hand.Holds = nil
		b.At, b.Z, b.Fallen = at, z, false
		after(b)
	}})
	p.add(beat{time: fingersTime, hand: true, aim: over(overhead)})
}

// toSquare puts the piece in hand on a square, as well as hands do.
func (p *doer) toSquare(s chess.Square) {
	sigma := putSigma
	if p.habits.IsSloppy {
		sigma = sloppySigma
	}
	at := p.table.Around(p.table.Centre(s), sigma)
	p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, func(b *physics.Piece) {
		b.Yaw += turned * (p.chance.Float64() - 0.5)
		p.table.Stand(b)
	})
}

// offBoard stands the piece in hand beside the machine, or, if it was said so
// and it holds a magnet, in a slot of the tray.
func (p *doer) offBoard() {
	if slot := p.slot; slot != nil {
		p.slot = nil
		at := p.table.Around(*slot, putSigma)
		p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, p.table.Stand)
		return
	}
	p.place(func() (frame.Spot[frame.Board], float64) { return p.Shelf(p.hand.Holds) }, func(b *physics.Piece) {
		b.Place = physics.Beside
	})
}

// Shelf is where a piece off the board stands on the table: White's pieces on one
// side, Black's on the other, in rows, along the picture's wide way.
func (p *doer) Shelf(b *physics.Piece) (frame.Spot[frame.Board], float64) {
	if b == nil {
		return frame.Spot[frame.Board]{}, 0
	}
	slot, ok := p.stood[b]
	if !ok {
		for slot = 0; p.taken(b.Piece.Color(), slot); slot++ {
		}
		p.stood[b] = slot
	}
	return room.Shelf(p.rig, b.Piece.Color(), slot), room.TableZ(p.rig)
}

func (p *doer) taken(c chess.Color, slot int) bool {
	for b, s := range p.stood {
		if s == slot && b.Piece.Color() == c && b.Place != physics.OnBoard {
			return true
		}
	}
	return false
}

// find gives the piece on a square: the one nearest its middle.
func (p *doer) find(s chess.Square) *physics.Piece {
	return p.nearest(p.table.Centre(s), func(b *physics.Piece) bool { return p.table.Square(b) == s })
}

func (p *doer) nearest(at frame.Spot[frame.Board], fits func(*physics.Piece) bool) *physics.Piece {
	var best *physics.Piece
	for _, b := range p.table.Pieces {
		if fits(b) && (best == nil || b.At.Distance(at) < best.At.Distance(at)) {
			best = b
		}
	}
	return best
}

// take clears squares.
func (p *doer) take(squares []chess.Square) {
	p.pause(setOut, 0)
	for _, s := range squares {
		if p.find(s) != nil {
			p.fetch(func() *physics.Piece { return p.find(s) })
			p.offBoard()
		}
	}
	p.withdraw()
}

// spare is a piece of that kind free to be used: one that stands where the
// position does not want it, one from the table, or one from the box.
func (p *doer) spare(piece chess.Piece, s chess.Square, want *chess.Position) *physics.Piece {
	lost := func(b *physics.Piece) bool {
		if b.Piece != piece || b.Place != physics.OnBoard || p.table.IsTrayed(b) {
			return false
		}
		at := p.table.Square(b)
		return at == s || at == chess.NoSquare || (want != nil && want.At(at) != piece)
	}
	if b := p.nearest(p.table.Centre(s), lost); b != nil {
		return b
	}
	return p.fresh(piece, s)
}

// fresh is a piece that is not in play: the nearest in the tray, else one from
// the table or the box.
func (p *doer) fresh(piece chess.Piece, s chess.Square) *physics.Piece {
	if b := p.nearest(p.table.Centre(s), func(b *physics.Piece) bool { return b.Piece == piece && p.table.IsTrayed(b) }); b != nil {
		return b
	}
	return p.boxed(piece)
}

// boxed is a piece that is not in play: from the hand or the table, or a new one from the box.
func (p *doer) boxed(piece chess.Piece) *physics.Piece {
	i := slices.IndexFunc(p.table.Pieces, func(b *physics.Piece) bool {
		return b.Piece == piece && (b.Place == physics.InHand || b.Place == physics.Beside || b.Place == physics.Gone)
	})
	if i >= 0 {
		return p.table.Pieces[i]
	}
	b := p.table.Turn(piece)
	b.Place = physics.Beside
	b.At, b.Z = p.Shelf(b)
	return b
}

func placement(fen string) (*chess.Position, error) {
	if fen == "" {
		return nil, nil
	}
	pos, err := chess.ParseFEN(fen)
	return &pos, err
}
