// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/presence"
	"boardhand/internal/sight/scene"
)

// Present tells for each place by itself whether a piece stands there in the
// last picture that Read was given, whatever the reading was: on the field, on
// lines, in the margin, and beside the board as far as the picture shows it. A
// piece counts if its base is centred within 0.45 squares of the place, at a
// slot of the setup within 0.45 of the way to the next slot; Found says where. Before the first picture no place is open. It costs some 10–30 ms
// a place.
func (r *Reader) Present(at []frame.Spot[frame.Board]) []presence.Presence {
	out := make([]presence.Presence, len(at))
	w := r.inspection()
	for i := range at {
		out[i] = presence.Presence{At: at[i], Found: at[i], Sigma: scene.PlacingSigma * r.setup.Square, Sure: 0.5}
		if w != nil {
			out[i] = w.Present(at[i], out[i])
		}
		out[i].Open = out[i].Open && !r.last.covers(at[i])
	}
	return out
}

// Strangers lists pieces, on the field and in the strip beside it, that stand
// neither on a square of the reader's position nor at one of the known places,
// as Present counts standing there.
// It looks at the last picture that Read was given: on the field with its
// margin, and beside it around the slots of the setup. At most 24 places are
// looked at closely, those first where a piece explains the picture best.
func (r *Reader) Strangers(known []frame.Spot[frame.Board]) []Stray {
	w := r.inspection()
	if w == nil {
		return nil
	}
	in, reach := r.setup.Strip()
	var out []Stray
	for _, t := range w.Scan(in, reach) {
		isKnown := func(at frame.Spot[frame.Board]) bool { return t.At.Distance(at) < r.setup.ReachAt(at) }
		if t.Belief() < 0.5 || slices.ContainsFunc(known, isKnown) || r.owned(t.At) {
			continue
		}
		m := []scene.Placement{w.Scene.Put(t.Piece, chess.NoSquare, t.At)}
		out = append(out, Stray{Side: t.Side, At: t.At, Sigma: w.Sigma(w.Gone, m, 0, w.PlacedFit(t))})
	}
	return out
}

// owned says whether a place lies within a square on which the position has a piece.
func (r *Reader) owned(at frame.Spot[frame.Board]) bool {
	if math.Max(math.Abs(at.X), math.Abs(at.Y)) >= r.setup.HalfField() {
		return false
	}
	s := r.setup.SquareAt(at)
	return r.pos.At(s) != chess.NoPiece && r.setup.Aside(s, at) < scene.OnLine && r.inspection().Vacant(s)
}

// Presence says whether a piece stands at a place, told from that place alone.
type Presence = presence.Presence

// hasRoom says whether a piece can stand where it is placed, beside those that have not gone.
func hasRoom(of *scene.Setup, pieces []scene.Placement, gone []bool, m scene.Placement) bool {
	for k, p := range pieces {
		apart := (of.Pieces[p.Piece.Kind()].Base + of.Pieces[m.Piece.Kind()].Base) / 2
		if !gone[k] && p.At.Distance(m.At) < standApart*apart {
			return false
		}
	}
	return true
}

// Seek looks in the last picture for the piece that stood on from and was
// carried off it: anywhere on the field, on lines too. gone are the squares
// whose pieces were taken off meanwhile. It says false when the piece is not seen
// standing: what is seen where another piece stands is that one, or one that lies on
// it, and one that the reading has seen lying stands nowhere. It is for a machine that knows
// which piece it moved: a reader that does not know asks Read.
func (r *Reader) Seek(from chess.Square, gone []chess.Square) (Stray, bool) {
	if r.pending == nil || r.pos.At(from) == chess.NoPiece || r.pending.hasLain(r.pos.At(from)) {
		return Stray{}, false
	}
	q := inference.New(r.pending.observation)
	g := hypothesis.Hypothesis{State: Illegal, After: scene.OccupancyOf(&r.pos), Gone: make([]bool, len(q.Scene.Pieces))}
	for k := range q.Scene.Pieces {
		if s := q.Scene.Pieces[k].Square; s == from || slices.Contains(gone, s) {
			g.Gone[k] = true
			g.After[s] = chess.NoPiece
		}
	}
	none := q.Evidence(g.Gone, nil)
	m, score := q.Seek(&g, r.pos.At(from))
	g.Stood = []scene.Placement{m}
	if score-none < seekNats || !hasRoom(&q.Scene.Setup, q.Scene.Pieces, g.Gone, m) || q.Unexplained(&g) > seekLeaves*q.Scene.Setup.LeastBase()*1e6 {
		return Stray{}, false
	}
	return Stray{Side: m.Piece.Color(), At: m.At, Sigma: q.Sigma(g.Gone, g.Stood, 0, score)}, true
}
