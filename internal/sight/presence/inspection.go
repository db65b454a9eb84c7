// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/cast"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/scene"
)

// Inspection tells what one picture shows at a place by that place alone: as if
// the picture were the first one, so that a piece that was once taken for
// ground is seen all the same. The pieces of its scene only hide what lies
// behind them.
type Inspection struct {
	*inference.Search
	Gone  []bool          // of the scene's pieces: those left out for now
	tiles map[[2]int]bool // tiles beside the sheet whose ground is known

	Lain []frame.Spot[frame.Board] // where things lie that might be pieces, and do since the first picture

	ascents int           // how often it may still feel for pieces
	shadows *cast.Shadows // of the scene's pieces, nil if they tell nothing
	isAsked bool          // whether they have been looked for
}

// Inspect looks at an observation that was made as if the picture were the first one.
func Inspect(g *likelihood.Observation) *Inspection {
	return &Inspection{Search: inference.NewUnmarked(g), Gone: make([]bool, len(g.Scene.Pieces)), tiles: map[[2]int]bool{}, ascents: mostAscents}
}

// Trace is what speaks for a piece at a place.
type Trace struct {
	At    frame.Spot[frame.Board] // where it fits best
	Side  chess.Color
	Piece chess.Piece // of that side, the kind whose silhouette fits
	fit   float64     // of its silhouette in its side's colours rather than the ground, nats
	head  float64     // of its picture rather than that of nobody, nats
	own   float64     // of its side's colours rather than the other's, nats
	cast  float64     // of the shadow that it casts rather than none, nats; 0: nobody asked

	expected bool // the scene has it
	beside   bool // or has another one so near that parts of that may be seen
	crowded  bool // or so near that their bases would all but touch
}

// odds is by how many nats somebody's head fits a place better than nobody's;
// very little outside the picture.
func (w *Inspection) odds(at frame.Spot[frame.Board]) float64 {
	weigh, ok := classify.WeighHead(w.Observation, at)
	if !ok {
		return -likelihood.MostNats
	}
	top := math.Inf(-1)
	for _, v := range weigh[chess.Pawn:] {
		top = max(top, v)
	}
	return top - weigh[chess.NoKind]
}

// headAt is the best that the classifier says around a fitted place.
func (w *Inspection) headAt(at frame.Spot[frame.Board]) float64 {
	best := w.odds(at)
	for _, d := range [4]frame.Spot[frame.Board]{{X: askAside}, {X: -askAside}, {Y: askAside}, {Y: -askAside}} {
		if best > clearHead || best < -5*clearHead {
			break
		}
		best = max(best, w.odds(at.Add(d)))
	}
	return best
}

// known is the trace of a piece of the scene.
func (w *Inspection) known(k int) Trace {
	m := w.Scene.Pieces[k]
	w.learnTiles(m.At)
	gone := make([]bool, len(w.Gone))
	gone[k] = true
	t := Trace{expected: true, At: m.At, Side: m.Piece.Color(), Piece: m.Piece, fit: -float64(w.Weigh(gone, nil)), head: w.headAt(m.At)}
	other := m
	other.Piece = chess.MakePiece(t.Side.Other(), m.Piece.Kind())
	t.own = -float64(w.Weigh(gone, []scene.Placement{other}))
	return t
}

// fits is by how many nats a piece explains the picture better than none.
func (w *Inspection) fits(m scene.Placement) float64 {
	return float64(w.Weigh(w.Gone, []scene.Placement{m}) - w.Weigh(w.Gone, nil))
}

// rough is how well a piece of either side fits a place without a closer look.
func (w *Inspection) rough(at frame.Spot[frame.Board]) (scene.Placement, float64) {
	best, top := scene.Placement{}, math.Inf(-1)
	m := w.Scene.Put(chess.MakePiece(chess.White, chess.Pawn), chess.NoSquare, at)
	for _, side := range [2]chess.Color{chess.White, chess.Black} {
		m.Piece = chess.MakePiece(side, chess.Pawn)
		if v := w.fits(m); v > top {
			best, top = m, v
		}
	}
	return best, top
}

// closer is the trace of a piece about where a rough look found one.
func (w *Inspection) closer(m scene.Placement) Trace {
	best := Trace{fit: math.Inf(-1)}
	var found scene.Placement
	for _, kind := range scene.Extremes {
		m := w.Scene.Put(chess.MakePiece(m.Piece.Color(), kind), m.Square, m.At)
		m, fit := w.ascend(m, w.fits(m))
		if fit > best.fit {
			best, found = Trace{At: m.At, Side: m.Piece.Color(), Piece: m.Piece, fit: fit}, m
		}
	}
	best.head, best.beside = -likelihood.MostNats, w.near(best.At)
	best.crowded = w.isCrowded(best.At, best.Piece)
	switch {
	case best.fit >= plainFit:
		best.head = w.headAt(best.At)
	case w.ascents > 0 && !best.beside && w.StructureUnder(found) > structureLeast:
		w.ascents--
		best.At, best.head = w.ascendHead(best.At)
		found = w.Scene.Put(found.Piece, found.Square, best.At)
		if best.fit = w.fits(found); best.fit < hopeless {
			best.head = -likelihood.MostNats
		}
	default:
		return best
	}
	found.Piece = chess.MakePiece(best.Side.Other(), found.Piece.Kind())
	if best.own = best.fit - w.fits(found); best.own < 0 {
		best.Side, best.Piece, best.fit, best.own = best.Side.Other(), found.Piece, best.fit-best.own, -best.own
	}
	return best
}

// near says whether a piece of the scene stands so near to a place, or leans so near to it
// in the picture, that its body or its shadow may be seen there.
func (w *Inspection) near(at frame.Spot[frame.Board]) bool {
	const reach = 0.55 // of a square
	for k, m := range w.Scene.Pieces {
		if !w.Gone[k] && w.apart(m, at) < reach*w.Scene.Setup.Square {
			return true
		}
	}
	return false
}

// isCrowded says whether a piece at a place would all but touch one of the scene.
func (w *Inspection) isCrowded(at frame.Spot[frame.Board], p chess.Piece) bool {
	base := func(p chess.Piece) float64 { return w.Scene.Setup.Pieces[p.Kind()].Base }
	for k, m := range w.Scene.Pieces {
		if !w.Gone[k] && m.At.Distance(at) < crowdedBelow*(base(m.Piece)+base(p))/2 {
			return true
		}
	}
	return false
}

// apart is how far a place is from what a piece seems to stand on in the picture, metres: from
// its base, or from the board behind its body, whichever is nearer.
func (w *Inspection) apart(m scene.Placement, at frame.Spot[frame.Board]) float64 {
	height, camera := w.Scene.Setup.Pieces[m.Piece.Kind()].Height, w.Scene.Plane.Camera
	lean := m.At.Sub(frame.Spot[frame.Board]{X: camera.X, Y: camera.Y}).Scale(height / (camera.Z - height))
	to, long := at.Sub(m.At), lean.X*lean.X+lean.Y*lean.Y
	if long == 0 {
		return m.At.Distance(at)
	}
	share := max(0, min(1, (to.X*lean.X+to.Y*lean.Y)/long))
	return m.At.Add(lean.Scale(share)).Distance(at)
}

// ascendHead looks for the place near one where the classifier sees a piece best: its
// answer falls off within a few millimetres.
func (w *Inspection) ascendHead(at frame.Spot[frame.Board]) (frame.Spot[frame.Board], float64) {
	best, top := at, w.odds(at)
	for _, step := range [3]float64{4e-3, 2e-3, 1e-3} { // metres
		from := best
		for j := -1.0; j <= 1; j++ {
			for i := -1.0; i <= 1; i++ {
				there := from.Add(frame.Spot[frame.Board]{X: i * step, Y: j * step})
				if i == 0 && j == 0 || w.takenBy(there) {
					continue
				}
				if v := w.odds(there); v > top {
					best, top = there, v
				}
			}
		}
		if top < -8 { // nobody anywhere near
			break
		}
	}
	return best, top
}

// ascend moves a piece uphill to where its silhouette fits best.
func (w *Inspection) ascend(m scene.Placement, fit float64) (scene.Placement, float64) {
	for step := 0.08 * w.Scene.Setup.Square; step > 0.4e-3; step /= 2 {
		for range 6 {
			before, here := fit, m
			for _, d := range [4]frame.Spot[frame.Board]{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
				there := w.Scene.Put(here.Piece, here.Square, here.At.Add(d))
				if v := w.fits(there); v > fit {
					fit, m = v, there
				}
			}
			if fit-before < 0.05 {
				break
			}
		}
	}
	return m, fit
}
