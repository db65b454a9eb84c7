package twin

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/twin/physics"
	"boardhand/internal/twin/room"
)

// add puts a beat at the end of the script.
func (p *person) add(b beat) { p.script.beats = append(p.script.beats, b) }

// pause waits without a hand.
func (p *person) pause(t float64, looks int) { p.add(beat{time: t, looks: looks}) }

// then does something at the end of the last beat.
func (p *person) then(do func()) {
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
func (p *person) withdraw() { p.add(beat{time: reachTime, hand: true, to: p.hand.away()}) }

// fetch brings the hand to a man and takes him. The man is looked up when the
// hand sets out, since he may have moved.
func (p *person) fetch(find func() *physics.Piece) {
	var man *physics.Piece
	p.add(beat{time: reachTime, hand: true, aim: func() frame.Point[frame.Board] {
		man = find()
		return above(man, overhead)
	}})
	p.add(beat{time: fingersTime, hand: true, aim: func() frame.Point[frame.Board] { return above(man, 0) },
		finish: func() { p.hand.grab(man) }})
	p.add(beat{time: fingersTime, hand: true, aim: func() frame.Point[frame.Board] { return above(man, overhead) }})
}

// overhead is how high over the men a hand travels, m.
const overhead = 0.075

// above is a place h over the head of a man.
func above(b *physics.Piece, h float64) frame.Point[frame.Board] {
	if b == nil {
		return frame.Point[frame.Board]{Z: overhead}
	}
	return b.At.At(b.Z + b.Height*0.85 + h)
}

// place carries the man in hand to a spot and puts him down.
func (p *person) place(where func() (frame.Spot[frame.Board], float64), after func(*physics.Piece)) {
	over := func(h float64) func() frame.Point[frame.Board] {
		return func() frame.Point[frame.Board] {
			at, z := where()
			return at.At(z + p.hand.length() + h)
		}
	}
	p.add(beat{time: crossTime, hand: true, aim: over(overhead)})
	p.add(beat{time: fingersTime, hand: true, aim: over(0), finish: func() {
		b := p.hand.holds
		if b == nil {
			return
		}
		at, z := where()
		p.hand.holds = nil
		b.At, b.Z, b.Fallen = at, z, false
		after(b)
	}})
	p.add(beat{time: fingersTime, hand: true, aim: over(overhead)})
}

// toSquare puts the man in hand on a square, as well as hands do.
func (p *person) toSquare(s chess.Square) {
	sigma := putSigma
	if p.w.faults[SloppyGuest] {
		sigma = sloppySigma
	}
	at := p.w.table.Around(p.w.table.Centre(s), sigma)
	p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, func(b *physics.Piece) {
		b.Yaw += 0.8 * (p.chance.Float64() - 0.5)
		p.w.table.Stand(b)
	})
}

// offBoard stands the man in hand beside the machine, or, if it was said so
// and he holds a magnet, in a slot of the tray.
func (p *person) offBoard() {
	if slot := p.slot; slot != nil {
		p.slot = nil
		at := p.w.table.Around(*slot, putSigma)
		p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, p.w.table.Stand)
		return
	}
	p.place(func() (frame.Spot[frame.Board], float64) { return p.shelf(p.hand.holds) }, func(b *physics.Piece) {
		b.Place = physics.Beside
	})
}

// shelf is where a man off the board stands on the table: White's men on one
// side, Black's on the other, in rows, along the picture's wide way.
func (p *person) shelf(b *physics.Piece) (frame.Spot[frame.Board], float64) {
	if b == nil {
		return frame.Spot[frame.Board]{}, 0
	}
	slot, ok := p.stood[b]
	if !ok {
		for slot = 0; p.taken(b.Piece.Color(), slot); slot++ {
		}
		p.stood[b] = slot
	}
	return room.Shelf(p.w.rig, b.Piece.Color(), slot), room.TableZ(p.w.rig)
}

func (p *person) taken(c chess.Color, slot int) bool {
	for b, s := range p.stood {
		if s == slot && b.Piece.Color() == c && b.Place != physics.OnBoard {
			return true
		}
	}
	return false
}

// find gives the man on a square: the one nearest its middle.
func (p *person) find(s chess.Square) *physics.Piece {
	return p.nearest(p.w.table.Centre(s), func(b *physics.Piece) bool { return p.w.table.Square(b) == s })
}

func (p *person) nearest(at frame.Spot[frame.Board], fits func(*physics.Piece) bool) *physics.Piece {
	var best *physics.Piece
	for _, b := range p.w.table.Pieces {
		if fits(b) && (best == nil || b.At.Distance(at) < best.At.Distance(at)) {
			best = b
		}
	}
	return best
}

// take clears squares.
func (p *person) take(squares []chess.Square) {
	p.pause(0.6, 0)
	for _, s := range squares {
		if p.find(s) != nil {
			p.fetch(func() *physics.Piece { return p.find(s) })
			p.offBoard()
		}
	}
	p.withdraw()
}

// put fetches a man of the kind asked for and stands him on the square.
func (p *person) put(n notice.Notice) error {
	if len(n.Squares) == 0 {
		p.fillSlot(n)
		return nil
	}
	s := n.Squares[0]
	want, err := placement(n.FEN)
	if err != nil {
		return err
	}
	p.pause(0.6, 0)
	if b := p.find(s); b != nil && b.Piece != n.Piece {
		p.take(n.Squares[:1])
	}
	spare := p.spare(n.Piece, s, want)
	p.fetch(func() *physics.Piece { return spare })
	p.toSquare(s)
	p.withdraw()
	return nil
}

// spare is a man of that kind free to be used: one that stands where the
// position does not want him, one from the table, or one from the box.
func (p *person) spare(piece chess.Piece, s chess.Square, want *chess.Position) *physics.Piece {
	lost := func(b *physics.Piece) bool {
		if b.Piece != piece || b.Place != physics.OnBoard || p.w.table.IsTrayed(b) {
			return false
		}
		at := p.w.table.Square(b)
		return at == s || at == chess.NoSquare || (want != nil && want.At(at) != piece)
	}
	if b := p.nearest(p.w.table.Centre(s), lost); b != nil {
		return b
	}
	return p.fresh(piece, s)
}

// fresh is a man that is not in play: the nearest in the tray, else one from
// the table or the box.
func (p *person) fresh(piece chess.Piece, s chess.Square) *physics.Piece {
	if b := p.nearest(p.w.table.Centre(s), func(b *physics.Piece) bool { return b.Piece == piece && p.w.table.IsTrayed(b) }); b != nil {
		return b
	}
	return p.boxed(piece)
}

// boxed is a man that is not in play: from the table, or a new one from the box.
func (p *person) boxed(piece chess.Piece) *physics.Piece {
	i := slices.IndexFunc(p.w.table.Pieces, func(b *physics.Piece) bool {
		return b.Piece == piece && (b.Place == physics.Beside || b.Place == physics.Gone)
	})
	if i >= 0 {
		return p.w.table.Pieces[i]
	}
	b := p.w.table.Turn(piece)
	b.Place = physics.Beside
	b.At, b.Z = p.shelf(b)
	return b
}

func placement(fen string) (*chess.Position, error) {
	if fen == "" {
		return nil, nil
	}
	pos, err := chess.ParseFEN(fen)
	return &pos, err
}
