// SPDX-License-Identifier: Apache-2.0

package person

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/twin/physics"
)

// perform lines up the hand's work for a legal move: the captured piece first,
// then the mover; the king before its rook; the pawn off and its successor on.
func (p *Person) perform(m chess.Move) {
	half := p.habits.IsInterrupted && p.chance.Float64() < halfShare
	if p.chance.Float64() < hoverShare {
		to := p.table.Centre(m.To()).At(overhead + hoverHigh)
		p.add(beat{time: reachTime, hand: true, to: to})
		p.add(beat{time: hoverTime, hand: true, to: to.Add(hoverDrift)})
	}
	acts := p.game.Acts(m)
	if taken := acts[0]; taken.To >= game.NoSquare {
		p.fetch(func() *physics.Piece { return p.find(taken.From) })
		if !p.rig.Pieces.Carries(taken.Piece.Color().String()) {
			p.slot = nil
		}
		p.offBoard()
		p.breakOff(&half)
		acts = acts[1:]
	} else if half && (len(acts) == 1 || !game.AreApart(acts[0], acts[1])) {
		p.detour(m, &half)
	}
	p.fetch(func() *physics.Piece { return p.find(m.From()) })
	p.slot = nil
	acts = acts[1:]
	if len(acts) == 2 && game.AreExchange(acts[0], acts[1]) { // the pawn goes off from the hand
		p.offBoard()
		p.breakOff(&half)
		spare := p.fresh(acts[1].Piece, m.To())
		p.fetch(func() *physics.Piece { return spare })
		acts = nil
	}
	p.toSquare(m.To())
	for _, a := range acts {
		p.breakOff(&half)
		p.fetch(func() *physics.Piece { return p.find(a.From) })
		p.toSquare(a.To)
	}
}

// breakOff takes the hand away for a few pictures, once.
func (p *Person) breakOff(half *bool) {
	if *half {
		*half = false
		p.withdraw()
		p.pause(awayTime, awayLooks)
	}
}

// detour puts the piece down on a square between, where no legal move leads.
func (p *Person) detour(m chess.Move, half *bool) {
	s, ok := p.wayside(m)
	if !ok {
		return
	}
	p.fetch(func() *physics.Piece { return p.find(m.From()) })
	p.toSquare(s)
	p.breakOff(half)
	p.fetch(func() *physics.Piece { return p.find(s) })
	p.toSquare(m.From())
}

// wayside is an empty square that the piece of m cannot legally go to.
func (p *Person) wayside(m chess.Move) (chess.Square, bool) {
	for range 40 {
		s := chess.Square(p.chance.IntN(64))
		if p.game.At(s) == chess.NoPiece && !p.game.Legal(chess.MakeMove(m.From(), s, chess.NoKind)) &&
			!p.game.Legal(chess.MakeMove(m.From(), s, chess.Queen)) {
			return s, true
		}
	}
	return 0, false
}

// blunder makes a move that no rule allows, and takes the hand away. The
// guest still owes a legal one.
func (p *Person) blunder() bool {
	own := p.game.ByColor(p.side)
	for range 60 {
		from := chess.Square(p.chance.IntN(64))
		if !own.Has(from) {
			continue
		}
		m := chess.MakeMove(from, 0, chess.NoKind)
		to, ok := p.wayside(m)
		if !ok {
			continue
		}
		p.fetch(func() *physics.Piece { return p.find(from) })
		p.toSquare(to)
		p.withdraw()
		return true
	}
	return false
}

// adjust sets the piece straight that stands worst when the hand gets there.
func (p *Person) adjust() {
	var at frame.Spot[frame.Board]
	p.fetch(func() *physics.Piece {
		b := p.askew()
		if b != nil {
			at = p.table.Around(p.table.Centre(p.table.Square(b)), adjustSigma)
		}
		return b
	})
	p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, p.table.Stand)
	p.withdraw()
}

// straighten sets the pieces on these squares to their middles.
func (p *Person) straighten(squares []chess.Square) {
	if len(squares) == 0 {
		return
	}
	p.drop()
	p.pause(setOut, 0)
	for _, s := range squares {
		if p.find(s) != nil {
			p.fetch(func() *physics.Piece { return p.find(s) })
			p.toSquare(s)
		}
	}
	p.withdraw()
}

// askew is the piece farthest from the middle of its square.
func (p *Person) askew() (worst *physics.Piece) {
	off := 0.0
	for _, b := range p.table.Pieces {
		if s := p.table.Square(b); s != chess.NoSquare {
			if d := b.At.Distance(p.table.Centre(s)); d > off {
				worst, off = b, d
			}
		}
	}
	return worst
}

// arrange lines up what it takes to set the board to a position: pieces that
// stand wrong off the board first, then every gap filled. A piece that lies
// beside the squares and fills a gap goes there at once.
func (p *Person) arrange(pos chess.Position) {
	good, missing := p.compare(pos)
	used := map[*physics.Piece]bool{}
	fillers := make([]*physics.Piece, len(missing))
	for i, s := range missing {
		fillers[i] = p.filler(s, pos.At(s), good, used)
	}
	busy := len(missing) > 0
	if p.hand.Holds != nil { // out of the hand first; it is fetched again where it is wanted
		p.offBoard()
		busy = true
	}
	for _, b := range p.table.Pieces {
		at := p.table.Square(b)
		switch {
		case b.Place == physics.OnBoard && !good[b] && !p.table.IsTrayed(b) && (at != chess.NoSquare || !used[b]):
			p.fetch(func() *physics.Piece { return b })
			p.offBoard()
			busy = true
		case b.Fallen && p.table.IsTrayed(b) && !used[b]:
			p.pickUp(b)
			busy = true
		}
	}
	for i, s := range missing {
		p.fetch(func() *physics.Piece { return fillers[i] })
		p.toSquare(s)
	}
	if busy {
		p.withdraw()
	}
}

// compare finds the pieces that may stay and the squares that lack theirs.
func (p *Person) compare(pos chess.Position) (good map[*physics.Piece]bool, missing []chess.Square) {
	good = map[*physics.Piece]bool{}
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		want := pos.At(s)
		if want == chess.NoPiece {
			continue
		}
		c := p.table.Centre(s)
		b := p.nearest(c, func(b *physics.Piece) bool { return p.table.Square(b) == s && b.Piece == want && !b.Fallen })
		if b != nil && b.At.Distance(c) < seenAskew*float64(p.rig.Board.Square) {
			good[b] = true
		} else {
			missing = append(missing, s)
		}
	}
	return good, missing
}

// filler is a piece for a square: one that stood wrong, else the nearest in the
// tray, else one from the table or the box.
func (p *Person) filler(s chess.Square, piece chess.Piece, good, used map[*physics.Piece]bool) *physics.Piece {
	free := func(b *physics.Piece) bool { return b.Piece == piece && !good[b] && !used[b] }
	for _, fits := range []func(*physics.Piece) bool{
		func(b *physics.Piece) bool {
			return free(b) && (b.Place == physics.OnBoard || b.Place == physics.InHand) && !p.table.IsTrayed(b)
		},
		func(b *physics.Piece) bool { return free(b) && p.table.IsTrayed(b) },
		free,
	} {
		if b := p.nearest(p.table.Centre(s), fits); b != nil {
			used[b] = true
			return b
		}
	}
	b := p.table.Turn(piece)
	b.Place = physics.Beside
	b.At, b.Z = p.Shelf(b)
	used[b] = true
	return b
}
