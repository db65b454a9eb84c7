package twin

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// perform lines up the hand's work for a legal move: the captured man first,
// then the mover; the king before his rook; the pawn off and its successor on.
func (p *person) perform(m chess.Move) {
	half := p.w.faults[HalfMove] && p.chance.Float64() < halfShare
	if p.chance.Float64() < hoverShare {
		to := p.w.centre(m.To()).At(overhead + 0.05)
		p.add(beat{time: reachTime, hand: true, to: to})
		p.add(beat{time: hoverTime, hand: true, to: to.Add(frame.Point[frame.Board]{X: 0.02, Y: 0.01})})
	}
	if _, at := p.game.Captured(m); at != chess.NoSquare {
		p.fetch(func() *body { return p.find(at) })
		if !p.w.rig.Pieces.Carries(p.game.At(at).Color().String()) {
			p.slot = nil
		}
		p.offBoard()
		p.breakOff(&half)
	} else if half && !p.game.IsCastling(m) {
		p.detour(m, &half)
	}
	p.fetch(func() *body { return p.find(m.From()) })
	p.slot = nil
	if k := m.Promotion(); k != chess.NoKind {
		p.offBoard()
		p.breakOff(&half)
		spare := p.fresh(chess.MakePiece(p.side, k), m.To())
		p.fetch(func() *body { return spare })
	}
	p.toSquare(m.To())
	if p.game.IsCastling(m) {
		p.breakOff(&half)
		from, to := p.game.RookMove(m)
		p.fetch(func() *body { return p.find(from) })
		p.toSquare(to)
	}
}

// breakOff takes the hand away for a few pictures, once.
func (p *person) breakOff(half *bool) {
	if *half {
		*half = false
		p.withdraw()
		p.pause(2, 3)
	}
}

// detour puts the man down on a square between, where no legal move leads.
func (p *person) detour(m chess.Move, half *bool) {
	s, ok := p.wayside(m)
	if !ok {
		return
	}
	p.fetch(func() *body { return p.find(m.From()) })
	p.toSquare(s)
	p.breakOff(half)
	p.fetch(func() *body { return p.find(s) })
	p.toSquare(m.From())
}

// wayside is an empty square that the man of m cannot legally go to.
func (p *person) wayside(m chess.Move) (chess.Square, bool) {
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
func (p *person) blunder() bool {
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
		p.fetch(func() *body { return p.find(from) })
		p.toSquare(to)
		p.withdraw()
		return true
	}
	return false
}

// adjust sets the man straight that stands worst when the hand gets there.
func (p *person) adjust() {
	var at frame.Spot[frame.Board]
	p.fetch(func() *body {
		b := p.askew()
		if b != nil {
			at = p.w.around(p.w.centre(p.w.square(b)), 0.015)
		}
		return b
	})
	p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, p.w.stand)
	p.withdraw()
}

// straighten sets the men on these squares to their middles.
func (p *person) straighten(squares []chess.Square) {
	if len(squares) == 0 {
		return
	}
	p.drop()
	p.pause(0.6, 0)
	for _, s := range squares {
		if p.find(s) != nil {
			p.fetch(func() *body { return p.find(s) })
			p.toSquare(s)
		}
	}
	p.withdraw()
}

// askew is the man farthest from the middle of his square.
func (p *person) askew() (worst *body) {
	off := 0.0
	for _, b := range p.w.men {
		if s := p.w.square(b); s != chess.NoSquare {
			if d := b.at.Distance(p.w.centre(s)); d > off {
				worst, off = b, d
			}
		}
	}
	return worst
}

// arrange lines up what it takes to set the board to a position: men that
// stand wrong off the board first, then every gap filled.
func (p *person) arrange(pos chess.Position) {
	good, missing := p.compare(pos)
	busy := false
	for _, b := range p.w.men {
		if b.place == onBoard && !good[b] && !p.w.trayed(b) {
			p.fetch(func() *body { return b })
			p.offBoard()
			busy = true
		}
		if b.fallen && p.w.trayed(b) {
			p.pickUp(b)
			busy = true
		}
	}
	used := map[*body]bool{}
	for _, s := range missing {
		b := p.filler(s, pos.At(s), good, used)
		p.fetch(func() *body { return b })
		p.toSquare(s)
		busy = true
	}
	if busy {
		p.withdraw()
	}
}

// seenAskew is how far off its middle, as a share of the square, a person sees
// at a glance that a piece does not stand right.
const seenAskew = 0.3

// compare finds the men that may stay and the squares that lack theirs.
func (p *person) compare(pos chess.Position) (good map[*body]bool, missing []chess.Square) {
	good = map[*body]bool{}
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		want := pos.At(s)
		if want == chess.NoPiece {
			continue
		}
		c := p.w.centre(s)
		b := p.nearest(c, func(b *body) bool { return p.w.square(b) == s && b.piece == want && !b.fallen })
		if b != nil && b.at.Distance(c) < seenAskew*float64(p.w.rig.Board.Square) {
			good[b] = true
		} else {
			missing = append(missing, s)
		}
	}
	return good, missing
}

// filler is a man for a square: one that stood wrong, else the nearest in the
// tray, else one from the table or the box.
func (p *person) filler(s chess.Square, piece chess.Piece, good, used map[*body]bool) *body {
	free := func(b *body) bool { return b.piece == piece && !good[b] && !used[b] }
	for _, fits := range []func(*body) bool{
		func(b *body) bool { return free(b) && (b.place == onBoard || b.place == inHand) && !p.w.trayed(b) },
		func(b *body) bool { return free(b) && p.w.trayed(b) },
		free,
	} {
		if b := p.nearest(p.w.centre(s), fits); b != nil {
			used[b] = true
			return b
		}
	}
	b := p.w.turned(piece)
	b.place = beside
	b.at, b.z = p.shelf(b)
	used[b] = true
	return b
}
