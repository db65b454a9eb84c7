// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
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

// Present tells of one place; blank is the answer without a picture.
func (w *Inspection) Present(at frame.Spot[frame.Board], blank Presence) Presence {
	out := blank
	if out.Open = w.pictured(at); !out.Open {
		return out
	}
	t := w.at(at)
	out.Belief = t.Belief()
	if out.Belief < 0.5 {
		return out
	}
	out.Side, out.Sure = t.Side, t.sure()
	out.Found, out.Sigma = t.At, w.Sigma(w.Gone, []scene.Placement{w.Scene.Put(t.Piece, chess.NoSquare, t.At)}, 0, w.PlacedFit(t))
	return out
}

// PlacedFit is the evidence for a trace's piece among the pieces of the scene.
func (w *Inspection) PlacedFit(t Trace) nats.LogEvidence {
	return w.Evidence(w.Gone, []scene.Placement{w.Scene.Put(t.Piece, chess.NoSquare, t.At)})
}

// pictured says whether a piece at a place would be in the picture, base and head.
func (w *Inspection) pictured(at frame.Spot[frame.Board]) bool {
	for _, h := range [2]float64{0, 2 * w.Scene.Setup.HalfHeight()} {
		x, y, ok := w.Scene.Plane.Project(at.At(h))
		if !ok || x < 0 || y < 0 || x > float64(w.Scene.Plane.W-1) || y > float64(w.Scene.Plane.H-1) {
			return false
		}
	}
	return true
}

// at is the trace of whatever may stand at a place: of the piece that the scene
// has there, or else of the one that fits best.
func (w *Inspection) at(at frame.Spot[frame.Board]) Trace {
	k, near := -1, scene.InPlace*w.Scene.Setup.Square
	for i, m := range w.Scene.Pieces {
		if d := m.At.Distance(at); d < near {
			k, near = i, d
		}
	}
	if k < 0 {
		return w.free(at)
	}
	if t := w.known(k); t.Belief() > 0.5 && t.own > 0 {
		return t
	}
	w.Gone[k] = true // the scene errs here
	defer func() { w.Gone[k] = false }()
	return w.free(at)
}

// instead is the trace of what else may stand in the square of a piece of the
// scene, where that does not.
func (w *Inspection) instead(k int) Trace {
	w.Gone[k] = true
	defer func() { w.Gone[k] = false }()
	return w.free(w.Scene.Setup.Centre(w.Scene.Pieces[k].Square))
}

// free is the trace of the piece of unknown kind that fits a place best.
func (w *Inspection) free(at frame.Spot[frame.Board]) Trace {
	w.learnTiles(at)
	w.ascents = mostAscents
	best, top := scene.Placement{}, math.Inf(-1)
	reach := w.Scene.Setup.ReachAt(at)
	step := min(scanStep*w.Scene.Setup.Square, reach/2)
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
	none := Trace{At: at, fit: max(top, -likelihood.MostNats), head: -likelihood.MostNats}
	if top < hopeless {
		return none
	}
	t := w.sharpened(w.closer(best))
	if t.At.Distance(at) > reach {
		return none
	}
	return t
}

// sharpened is a trace that fits by its side's colours, but at whose place the
// classifier is in doubt, with the place that the classifier likes best: where a
// base is wider than the file says the silhouette fits some millimetres aside (4.5 at
// twice the width, where the classifier said −3 … −1 nats, and 5 … 7 at the true place).
func (w *Inspection) sharpened(t Trace) Trace {
	if t.fit < plainFit || t.head > clearHead || t.beside || w.ascents == 0 {
		return t
	}
	w.ascents--
	if at, head := w.ascendHead(t.At); head > t.head {
		t.At, t.head = at, head
	}
	return t
}

// Belief is the probability that somebody stands at a trace. On 60 pictures of
// the twin the classifier said more than 1.5 nats for all of 1698 pieces of the
// position but one, and at most −4.6 where a piece of the position was not there:
// their even point lies between. A piece that nobody spoke of is searched for in
// many places: the 60 that stood there had 1.6 nats and more, and the rest of the
// field −2 and less; but right beside a piece of the scene, whose body and shadow
// are seen there, it had up to 8, at places that fit by at most 16 nats, where
// pieces that stood there fitted by 24 and more. A shadow may fit as well as a piece (40 nats, on a
// red margin), and has no head at all (−8).
func (t Trace) Belief() float64 {
	const nat = 1.1
	head := nat * (max(-8, min(5, t.head)) - 1.7)
	fit := max(-20, min(40, t.fit)) // nats, as the classifier's, neither to decide alone
	switch {
	case t.expected:
		return logistic(head + 3.2*nat + 0.08*(fit-5))
	case t.beside:
		odds := min(head, 2*nat) + min(0.6*(fit-20.5), besideNats)
		if t.crowded {
			odds -= crowdedNats
		}
		return logistic(odds)
	}
	return logistic(head + 0.05*(fit-5) + t.cast)
}

// logistic is the probability that goes with odds in nats.
func logistic(odds float64) float64 { return 1 / (1 + math.Exp(-odds)) }

// sure is the probability that a trace's piece is of its side and not of the
// other: of 1698 pieces the right side led by 25 nats and more, and the wrong one
// by at most 3.
func (t Trace) sure() float64 {
	const even, nat = 12.0, 0.5
	return logistic(nat * (t.own - even))
}

// Vacant says whether the scene has no piece on a square.
func (w *Inspection) Vacant(s chess.Square) bool { return w.Scene.Board[s] == chess.NoPiece }
