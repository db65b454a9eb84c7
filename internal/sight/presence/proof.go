// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/scene"
)

// Proof is what each place says by itself about a board that is thought to stand
// in a picture.
type Proof struct {
	Belief float64         // of the least sure place
	Seen   scene.Occupancy // the board as its places say
	Wrong  []chess.Square  // where a place says otherwise, the squares beside a piece on a line among them
	Doubt  []chess.Square  // where a place does not say so surely enough

	Things []frame.Spot[frame.Board] // what speaks against the board, if that is no more than a thing or two that might be pieces, but look like none of this set: where they are
	Lain   []chess.Square            // where the inspection was told of such things, and they still are
}

// Prove asks every piece of the scene whether it stands there, and the rest of
// the field whether anything stands on it, on lines too.
func (w *Inspection) Prove() Proof {
	p := Proof{Belief: 1, Seen: w.Scene.Board}
	for k := range w.Scene.Pieces {
		p.check(w, k)
	}
	isOnly := len(p.Wrong) == 0
	for _, t := range w.Scan(w.Scene.Setup.OnSheet(0), w.Scene.Setup.HalfField()) {
		if 1-t.Belief() < provedLeast {
			t.cast = w.shadowOf(t)
		}
		if t.Belief() < 0.5 {
			p.count(w.Scene.Setup.SquareAt(t.At), 1-t.Belief())
			continue
		}
		switch alike := w.alike(t.At); {
		case alike < unlike && w.isBehind(t.At): // the upper part of a piece that is taller than was told
			continue
		case alike < likeThings && slices.ContainsFunc(w.Lain, w.within(t.At, 0.3)):
			p.Lain = append(p.Lain, w.Scene.Setup.SquareAt(t.At))
			continue
		case alike < likeThings:
			p.Things = append(p.Things, t.At)
		default:
			isOnly = false
		}
		p.addStranger(w, t)
	}
	if !isOnly || len(p.Doubt) > 0 || len(p.Things) > mostThings || !w.isWholeSet() {
		p.Things = nil
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

// alike is the probability that what was found at a place is of this set of pieces, by how it
// looks; 1 where that cannot be seen.
func (w *Inspection) alike(at frame.Spot[frame.Board]) float64 {
	alike, ok := classify.LineUp(w.Observation, w.Scene.Pieces).Resembles(w.Observation, at)
	if !ok {
		return 1
	}
	return alike
}

// isWholeSet says whether all kinds of both sides stand on the board, so that one more would
// look like one of them.
func (w *Inspection) isWholeSet() bool {
	for _, kind := range chess.Kinds.All() {
		for _, side := range [2]chess.Color{chess.White, chess.Black} {
			if !slices.Contains(w.Scene.Board[:], chess.MakePiece(side, kind)) {
				return false
			}
		}
	}
	return true
}

// isBehind says whether the upper part of a piece that is taller than was told would be seen
// at a place.
func (w *Inspection) isBehind(at frame.Spot[frame.Board]) bool {
	eye := w.Scene.Plane.Camera
	return slices.ContainsFunc(w.Scene.Pieces, func(m scene.Placement) bool {
		piece := w.Scene.Setup.Pieces[m.Piece.Kind()]
		height := mostTaller * piece.Height
		out, off := m.At.Sub(eye.Spot()), at.Sub(m.At)
		lean := out.Norm() * height / (eye.Z - height)
		return off.X*out.X+off.Y*out.Y > 0 && off.Norm() < lean+piece.Base/2
	})
}

// addStranger books a piece that the scene does not have, or what looks like one.
func (p *Proof) addStranger(w *Inspection, t Trace) {
	s := w.Scene.Setup.SquareAt(t.At)
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
