// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// Presence says whether a piece stands at a place, told from that place alone,
// whatever the position says.
type Presence struct {
	At     frame.Spot[frame.Board] // asked, board frame, metres
	Open   bool                    // the place lies in the picture and nothing hides it; else the rest says nothing
	Belief float64                 // that a piece stands there, 0–1
	Side   chess.Color             // of the piece, if one stands there
	Sure   float64                 // belief in Side, 0–1
	Found  frame.Spot[frame.Board] // where its base is centred, metres
	Sigma  float64                 // standard deviation of each coordinate of Found, metres
}

// Present tells for each place by itself whether a piece stands there in the
// last picture that Read was given, whatever the reading was: on the field, on
// lines, in the margin, and beside the board as far as the picture shows it. A
// piece counts if its base is centred within 0.45 squares of the place, at a
// slot of the setup within 0.45 of the way to the next slot; Found says where. Before the first picture no place is open. It costs some 10–30 ms
// a place.
func (r *Reader) Present(at []frame.Spot[frame.Board]) []Presence {
	out := make([]Presence, len(at))
	w := r.witness()
	for i := range at {
		out[i] = Presence{At: at[i], Found: at[i], Sigma: slack * r.setup.Square, Sure: 0.5}
		if w != nil {
			out[i] = w.present(at[i], out[i])
		}
		out[i].Open = out[i].Open && !r.shown.covers(at[i])
	}
	return out
}

// present tells of one place; blank is the answer without a picture.
func (w *witness) present(at frame.Spot[frame.Board], blank Presence) Presence {
	out := blank
	if out.Open = w.pictured(at); !out.Open {
		return out
	}
	t := w.at(at)
	out.Belief = t.belief()
	if out.Belief < 0.5 {
		return out
	}
	out.Side, out.Sure = t.side, t.sure()
	out.Found, out.Sigma = t.at, w.bluntness(w.gone, []standing{w.scene.standAt(t.piece, chess.NoSquare, t.at)}, 0, w.placedFit(t))
	return out
}

// placedFit is the score of a trace's piece among the pieces of the scene.
func (w *witness) placedFit(t trace) float64 {
	return w.score(w.gone, []standing{w.scene.standAt(t.piece, chess.NoSquare, t.at)})
}

// pictured says whether a piece at a place would be in the picture, base and head.
func (w *witness) pictured(at frame.Spot[frame.Board]) bool {
	for _, h := range [2]float64{0, 2 * w.scene.setup.middle()} {
		x, y, ok := w.scene.ground.Project(at.At(h))
		if !ok || x < 0 || y < 0 || x > float64(w.scene.ground.W-1) || y > float64(w.scene.ground.H-1) {
			return false
		}
	}
	return true
}

// at is the trace of whatever may stand at a place: of the piece that the scene
// has there, or else of the one that fits best.
func (w *witness) at(at frame.Spot[frame.Board]) trace {
	k, near := -1, inPlace*w.scene.setup.Square
	for i, m := range w.scene.pieces {
		if d := m.at.Distance(at); d < near {
			k, near = i, d
		}
	}
	if k < 0 {
		return w.free(at)
	}
	if t := w.known(k); t.belief() > 0.5 && t.own > 0 {
		return t
	}
	w.gone[k] = true // the scene errs here
	defer func() { w.gone[k] = false }()
	return w.free(at)
}

// instead is the trace of what else may stand in the square of a piece of the
// scene, where that does not.
func (w *witness) instead(k int) trace {
	w.gone[k] = true
	defer func() { w.gone[k] = false }()
	return w.free(w.scene.setup.centre(w.scene.pieces[k].square))
}

// free is the trace of the piece of unknown kind that fits a place best.
func (w *witness) free(at frame.Spot[frame.Board]) trace {
	w.pave(at)
	w.feels = feelMost
	best, top := standing{}, math.Inf(-1)
	reach := w.scene.setup.reach(at)
	step := min(scanStep*w.scene.setup.Square, reach/2)
	for j := -2.0; j <= 2; j++ {
		for i := -2.0; i <= 2; i++ {
			there := at.Add(frame.Spot[frame.Board]{X: i, Y: j}.Scale(step))
			if there.Distance(at) > reach || w.takenBy(there) {
				continue
			}
			if m, fit := w.rough(there); fit > top {
				best, top = m, fit
			}
		}
	}
	none := trace{at: at, fit: max(top, -unlikely), head: -unlikely}
	if top < hopeless {
		return none
	}
	t := w.felt(w.closer(best))
	if t.at.Distance(at) > reach {
		return none
	}
	return t
}

// felt is a trace that fits by its side's colours, but at whose place the
// classifier is in doubt, with the place that the classifier likes best: where a
// base is wider than the file says the silhouette fits some millimetres aside (4.5 at
// twice the width, where the classifier said −3 … −1 nats, and 5 … 7 at the true place).
func (w *witness) felt(t trace) trace {
	if t.fit < plainFit || t.head > clearHead || t.beside || w.feels == 0 {
		return t
	}
	w.feels--
	if at, head := w.feel(t.at); head > t.head {
		t.at, t.head = at, head
	}
	return t
}

// belief is the probability that somebody stands at a trace. On 60 pictures of
// the twin the classifier said more than 1.5 nats for all of 1698 pieces of the
// position but one, and at most −4.6 where a piece of the position was not there:
// their even point lies between. A piece that nobody spoke of is searched for in
// many places: the 60 that stood there had 1.6 nats and more, and the rest of the
// field −2 and less; but right beside a piece of the scene, whose body and shadow
// are seen there, it had up to 8, at places that fit by at most 16 nats, where
// pieces that stood there fitted by 24 and more.
func (t trace) belief() float64 {
	const nat = 1.1
	head := nat * (max(-8, min(5, t.head)) - 1.7)
	fit := max(-20, min(40, t.fit)) // nats, as the classifier's, neither to decide alone
	switch {
	case t.expected:
		return logistic(head + 3.2*nat + 0.08*(fit-5))
	case t.beside:
		return logistic(min(head, 2*nat) + 0.6*(fit-20.5))
	}
	return logistic(head + 0.05*(fit-5))
}

// logistic is the probability that goes with odds in nats.
func logistic(odds float64) float64 { return 1 / (1 + math.Exp(-odds)) }

// sure is the probability that a trace's piece is of its side and not of the
// other: of 1698 pieces the right side led by 25 nats and more, and the wrong one
// by at most 3.
func (t trace) sure() float64 {
	const even, nat = 12.0, 0.5
	return logistic(nat * (t.own - even))
}

// Strangers lists pieces, on the field and in the strip beside it, that stand
// neither on a square of the reader's position nor at one of the known places,
// as Present counts standing there.
// It looks at the last picture that Read was given: on the field with its
// margin, and beside it around the slots of the setup. At most 24 places are
// looked at closely, those first where a piece explains the picture best.
func (r *Reader) Strangers(known []frame.Spot[frame.Board]) []Stray {
	w := r.witness()
	if w == nil {
		return nil
	}
	in, reach := r.setup.strip()
	var out []Stray
	for _, t := range w.scan(in, reach) {
		isKnown := func(at frame.Spot[frame.Board]) bool { return t.at.Distance(at) < r.setup.reach(at) }
		if t.belief() < 0.5 || slices.ContainsFunc(known, isKnown) || r.owned(t.at) {
			continue
		}
		m := []standing{w.scene.standAt(t.piece, chess.NoSquare, t.at)}
		out = append(out, Stray{Side: t.side, At: t.at, Sigma: w.bluntness(w.gone, m, 0, w.placedFit(t))})
	}
	return out
}

// owned says whether a place lies within a square on which the position has a piece.
func (r *Reader) owned(at frame.Spot[frame.Board]) bool {
	if math.Max(math.Abs(at.X), math.Abs(at.Y)) >= r.setup.field() {
		return false
	}
	s := r.setup.squareAt(at)
	return r.pos.At(s) != chess.NoPiece && r.setup.aside(s, at) < onLine && r.witness().vacant(s)
}

// vacant says whether the scene has no piece on a square.
func (w *witness) vacant(s chess.Square) bool { return w.scene.board[s] == chess.NoPiece }
