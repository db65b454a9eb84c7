// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/scene"
)

// Proof is what each place says by itself about a board that is thought to stand
// in a picture.
type Proof struct {
	Belief float64         // of the least sure place
	Seen   scene.Occupancy // the board as its places say
	Wrong  []chess.Square  // where a place says otherwise, the squares beside a piece on a line among them
	Doubt  []chess.Square  // where a place does not say so surely enough
}

// Prove asks every piece of the scene whether it stands there, and the rest of
// the field whether anything stands on it, on lines too.
func (w *Inspection) Prove() Proof {
	p := Proof{Belief: 1, Seen: w.Scene.Board}
	for k := range w.Scene.Pieces {
		p.check(w, k)
	}
	for _, t := range w.Scan(w.Scene.Setup.OnSheet(0), w.Scene.Setup.HalfField()) {
		if w.Dismiss != nil && t.Belief() >= 0.5 && w.Dismiss(t.At) {
			continue
		}
		p.addStranger(w, t)
	}
	p.Wrong, p.Doubt = scene.Merge(nil, p.Wrong), scene.Merge(nil, p.Doubt)
	return p
}

// check books what is seen of a piece of the scene.
func (p *Proof) check(w *Inspection, k int) {
	m, t := &w.Scene.Pieces[k], w.known(k)
	if t.Belief() < 0.5 {
		if other := w.instead(k); other.Belief() > 0.5 {
			t = other // somebody stands elsewhere in its square
		}
	}
	if t.Side != m.Piece.Color() {
		t.own = -t.own
	}
	switch {
	case t.Belief() < 0.5:
		p.Seen[m.Square] = chess.NoPiece
		p.Wrong = append(p.Wrong, m.Square)
	case t.own < 0:
		p.Seen[m.Square] = chess.MakePiece(m.Piece.Color().Other(), m.Piece.Kind())
		p.Wrong = append(p.Wrong, m.Square)
	case w.Scene.Setup.Aside(m.Square, t.At) > scene.OwnSquare-0.1:
		p.Wrong = append(p.Wrong, m.Square)
	default:
		p.count(m.Square, min(t.Belief(), t.sure()))
	}
}

// addStranger books a piece that the scene does not have, or what looks like one.
func (p *Proof) addStranger(w *Inspection, t Trace) {
	s := w.Scene.Setup.SquareAt(t.At)
	if t.Belief() < 0.5 {
		p.count(s, 1-t.Belief())
		return
	}
	p.Wrong = append(p.Wrong, s)
	if w.Scene.Setup.Aside(s, t.At) <= scene.OnLine {
		p.Seen[s] = t.Piece
		return
	}
	p.Seen[s] = t.Piece
	p.Wrong = append(p.Wrong, w.Scene.Setup.Besides(s, t.At)...)
}

// count books the belief that one square is as it should be.
func (p *Proof) count(s chess.Square, belief float64) {
	p.Belief = min(p.Belief, belief)
	if belief < provedLeast {
		p.Doubt = append(p.Doubt, s)
	}
}

// Holds says whether every place agrees.
func (p *Proof) Holds() bool { return len(p.Wrong) == 0 && len(p.Doubt) == 0 }
