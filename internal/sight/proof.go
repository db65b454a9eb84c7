// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// proof is what each place says by itself about a board that is thought to stand
// in a picture.
type proof struct {
	belief float64        // of the least sure place
	seen   pieces         // the board as its places say
	wrong  []chess.Square // where a place says otherwise, the squares beside a piece on a line among them
	doubt  []chess.Square // where a place does not say so surely enough
}

// prove asks every piece of the scene whether it stands there, and the rest of
// the field whether anything stands on it, on lines too.
func (w *witness) prove() proof {
	p := proof{belief: 1, seen: w.scene.board}
	for k := range w.scene.pieces {
		p.attest(w, k)
	}
	for _, t := range w.scan(w.scene.setup.onSheet(0), w.scene.setup.field()) {
		p.intrude(w, t)
	}
	p.wrong, p.doubt = merge(nil, p.wrong), merge(nil, p.doubt)
	return p
}

// attest books what is seen of a piece of the scene.
func (p *proof) attest(w *witness, k int) {
	m, t := &w.scene.pieces[k], w.known(k)
	if t.belief() < 0.5 {
		if other := w.instead(k); other.belief() > 0.5 {
			t = other // somebody stands elsewhere in its square
		}
	}
	if t.side != m.piece.Color() {
		t.own = -t.own
	}
	switch {
	case t.belief() < 0.5:
		p.seen[m.square] = chess.NoPiece
		p.wrong = append(p.wrong, m.square)
	case t.own < 0:
		p.seen[m.square] = chess.MakePiece(m.piece.Color().Other(), m.piece.Kind())
		p.wrong = append(p.wrong, m.square)
	case w.scene.setup.aside(m.square, t.at) > ownSquare-0.1:
		p.wrong = append(p.wrong, m.square)
	default:
		p.weigh(m.square, min(t.belief(), t.sure()))
	}
}

// intrude books a piece that the scene does not have, or what looks like one.
func (p *proof) intrude(w *witness, t trace) {
	s := w.scene.setup.squareAt(t.at)
	if t.belief() < 0.5 {
		p.weigh(s, 1-t.belief())
		return
	}
	p.wrong = append(p.wrong, s)
	if w.scene.setup.aside(s, t.at) <= onLine {
		p.seen[s] = t.piece
		return
	}
	p.seen[s] = t.piece
	p.wrong = append(p.wrong, w.scene.setup.besides(s, t.at)...)
}

// provedLeast is the least belief that one place is as it should be. A white piece
// on a light square may be measured a centimetre off, and the classifier then is
// in two minds; of those missing none came near.
const provedLeast = 0.7

// weigh books the belief that one square is as it should be.
func (p *proof) weigh(s chess.Square, belief float64) {
	p.belief = min(p.belief, belief)
	if belief < provedLeast {
		p.doubt = append(p.doubt, s)
	}
}

// holds says whether every place agrees.
func (p *proof) holds() bool { return len(p.wrong) == 0 && len(p.doubt) == 0 }

// demand asks for a proof of a reading while the position has not been proved:
// of what was read, or of the position if no rule explained the picture. What
// does not hold is not given out.
func (v *verdict) demand() {
	k := 0
	if s := v.reading.State; s != Same && s != Moved {
		k = v.said()
	}
	if k < 0 || v.intruded() {
		v.bar()
		return
	}
	p := v.proved(k)
	if !p.holds() && len(p.wrong) > 0 {
		if n := v.sees(&p); n >= 0 && n != k && v.hypotheses[n].state == Moved {
			if other := v.proved(n); other.holds() {
				k, p = n, other
			}
		}
	}
	if p.holds() {
		v.give(k, p.belief)
		return
	}
	v.refuse(&p)
}

// said is the hypothesis that the position stands on the board.
func (v *verdict) said() int {
	return slices.IndexFunc(v.hypotheses, func(g hypothesis) bool { return g.state == Same })
}

// intruded says whether something much larger than a piece lies on the field.
func (v *verdict) intruded() bool {
	square := v.eye.setup.Square * v.eye.setup.Square * 1e6
	return slices.ContainsFunc(v.left, func(p residual) bool { return p.inside > square && !p.cast(&v.glance.air) })
}

// bar refuses to read a board over which something large lies.
func (v *verdict) bar() {
	if s := v.reading.State; s == Same || s == Moved {
		v.reading = Reading{State: Unsure, Belief: 1 - likely, Squares: squaresUnder(v.left), Candidates: v.candidates()}
	}
}

// proved is the proof of a hypothesis.
func (v *verdict) proved(k int) proof { return v.witness(&v.hypotheses[k]).prove() }

// sees is the hypothesis whose board a proof has seen, kinds apart; −1: none.
func (v *verdict) sees(p *proof) int {
	return slices.IndexFunc(v.hypotheses, func(g hypothesis) bool {
		for s, a := range g.after {
			b := p.seen[s]
			if (a == chess.NoPiece) != (b == chess.NoPiece) || a != chess.NoPiece && a.Color() != b.Color() {
				return false
			}
		}
		return true
	})
}

// give makes a proved hypothesis the reading.
func (v *verdict) give(k int, belief float64) {
	v.hypotheses[0], v.hypotheses[k] = v.hypotheses[k], v.hypotheses[0]
	g := &v.hypotheses[0]
	r := Reading{State: g.state, Belief: trust * belief}
	if k == 0 {
		r.Offsets = v.reading.Offsets
	}
	if g.state == Moved {
		r.Move, r.Squares, r.Candidates = g.move, differing(v.eye.board, g.after), v.candidates()
	}
	v.reading, v.lawless = r, false
}

// refuse gives out what speaks against a board.
func (v *verdict) refuse(p *proof) {
	r := &v.reading
	if len(p.wrong) == 0 {
		if r.State == Same || r.State == Moved {
			*r = Reading{State: Unsure, Belief: trust * p.belief, Squares: p.doubt, Candidates: v.candidates()}
		}
		return
	}
	state := Illegal
	if n := v.sees(p); n >= 0 && v.hypotheses[n].state == Partial {
		state = Partial
	}
	*r = Reading{State: state, Belief: trust * likely, Squares: p.wrong}
	v.lawless = state == Illegal
}

// witness looks at the verdict's picture with the pieces of a hypothesis.
func (v *verdict) witness(g *hypothesis) *witness {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for k := range v.pieces {
		if len(g.gone) == 0 || !g.gone[k] {
			at[v.pieces[k].square] = v.pieces[k].at
		}
	}
	for _, m := range g.stood {
		at[m.square] = m.at
	}
	return v.eye.witness(v.glance.plate, v.glance.grey, g.after, at)
}

// squaresUnder lists the squares that residuals cover.
func squaresUnder(left []residual) []chess.Square {
	var out []chess.Square
	for _, p := range left {
		out = merge(out, p.squares)
	}
	return out
}
