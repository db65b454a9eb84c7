// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// witness tells what one picture shows at a place by that place alone: as if
// the picture were the first one, so that a piece that was once taken for
// ground is seen all the same. The pieces of its scene only hide what lies
// behind them.
type witness struct {
	*inquiry
	gone  []bool          // of the scene's pieces: those left out for now
	paved map[[2]int]bool // tiles beside the sheet whose ground is known

	feels  int       // how often it may still feel for pieces
	ridges []float64 // median squared slope by ground, once asked
}

// witness looks at a picture with the pieces of a board at some places (by
// square; else in the middle). lit is the picture in the remembered light.
func (e *eye) witness(lit *pixels.Image, grey func() *image.Gray, board pieces, at map[chess.Square]frame.Spot[frame.Board]) *witness {
	g := observeAlone(&e.scene, &e.model, lit, board, at)
	g.grey = grey
	q := &inquiry{glance: g, places: map[place]frame.Spot[frame.Board]{}}
	return &witness{inquiry: q, gone: make([]bool, len(g.scene.pieces)), paved: map[[2]int]bool{}, feels: feelMost}
}

// trace is what speaks for a piece at a place.
type trace struct {
	at    frame.Spot[frame.Board] // where it fits best
	side  chess.Color
	piece chess.Piece // of that side, the kind whose silhouette fits
	fit   float64     // of its silhouette in its side's colours rather than the ground, nats
	head  float64     // of its picture rather than that of nobody, nats
	own   float64     // of its side's colours rather than the other's, nats

	expected bool // the scene has it
	beside   bool // or has another one so near that parts of that may be seen
}

// odds is by how many nats somebody's head fits a place better than nobody's;
// very little outside the picture.
func (w *witness) odds(at frame.Spot[frame.Board]) float64 {
	weigh, ok := weighHead(w.glance, at)
	if !ok {
		return -unlikely
	}
	top := math.Inf(-1)
	for _, v := range weigh[chess.Pawn:] {
		top = max(top, v)
	}
	return top - weigh[chess.NoKind]
}

// Where the classifier is asked besides the fitted place when it says nobody
// there: it knows pieces in the middle of its picture, and a fit may be wrong
// by about this much, metres.
const askAside = 1.5e-3

// clearHead is from how many nats on the classifier need not be asked around a place.
const clearHead = 2.0

// headAt is the best that the classifier says around a fitted place.
func (w *witness) headAt(at frame.Spot[frame.Board]) float64 {
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
func (w *witness) known(k int) trace {
	m := w.scene.pieces[k]
	w.pave(m.at)
	gone := make([]bool, len(w.gone))
	gone[k] = true
	t := trace{expected: true, at: m.at, side: m.piece.Color(), piece: m.piece, fit: -w.weigh(gone, nil), head: w.headAt(m.at)}
	other := m
	other.piece = chess.MakePiece(t.side.Other(), m.piece.Kind())
	t.own = -w.weigh(gone, []standing{other})
	return t
}

// silhouettes are the kinds whose outlines are tried where a piece of unknown
// kind may stand: the lowest and a tall one.
var silhouettes = [...]chess.Kind{chess.Pawn, chess.Queen}

// fits is by how many nats a piece explains the picture better than none.
func (w *witness) fits(m standing) float64 {
	return w.weigh(w.gone, []standing{m}) - w.weigh(w.gone, nil)
}

// rough is how well a piece of either side fits a place without a closer look.
func (w *witness) rough(at frame.Spot[frame.Board]) (standing, float64) {
	best, top := standing{}, math.Inf(-1)
	m := w.scene.standAt(chess.MakePiece(chess.White, chess.Pawn), chess.NoSquare, at)
	for _, side := range [2]chess.Color{chess.White, chess.Black} {
		m.piece = chess.MakePiece(side, chess.Pawn)
		if v := w.fits(m); v > top {
			best, top = m, v
		}
	}
	return best, top
}

// Fits of pieces of unknown kind. White pieces on a light board hardly differ in
// colour from it: of 60 that stood somewhere on the twin the worst fitted by −7
// nats, where of bare places one in a hundred did. Those that fit by plain nats
// are found by their silhouettes alone.
const (
	hopeless = -10.0
	plainFit = 8.0
)

// closer is the trace of a piece about where a rough look found one.
func (w *witness) closer(m standing) trace {
	best := trace{fit: math.Inf(-1)}
	var found standing
	for _, kind := range silhouettes {
		m := w.scene.standAt(chess.MakePiece(m.piece.Color(), kind), m.square, m.at)
		m, fit := w.ascend(m, w.fits(m))
		if fit > best.fit {
			best, found = trace{at: m.at, side: m.piece.Color(), piece: m.piece, fit: fit}, m
		}
	}
	best.head, best.beside = -unlikely, w.near(best.at)
	switch {
	case best.fit >= plainFit:
		best.head = w.headAt(best.at)
	case w.feels > 0 && !best.beside && w.relief(found) > reliefLeast:
		w.feels--
		best.at, best.head = w.feel(best.at)
		found = w.scene.standAt(found.piece, found.square, best.at)
		if best.fit = w.fits(found); best.fit < hopeless {
			best.head = -unlikely
		}
	default:
		return best
	}
	found.piece = chess.MakePiece(best.side.Other(), found.piece.Kind())
	if best.own = best.fit - w.fits(found); best.own < 0 {
		best.side, best.piece, best.fit, best.own = best.side.Other(), found.piece, best.fit-best.own, -best.own
	}
	return best
}

// near says whether a piece of the scene stands so near to a place that its body
// or its shadow may be seen there.
func (w *witness) near(at frame.Spot[frame.Board]) bool {
	const reach = 0.55 // of a square
	for k, m := range w.scene.pieces {
		if !w.gone[k] && m.at.Distance(at) < reach*w.scene.setup.Square {
			return true
		}
	}
	return false
}

// feelMost is how many places of a picture are felt for pieces without colour.
const feelMost = 8

// feel looks for the place near one where the classifier sees a piece best: its
// answer falls off within a few millimetres.
func (w *witness) feel(at frame.Spot[frame.Board]) (frame.Spot[frame.Board], float64) {
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

// reliefLeast is the least relief of a piece: on the twin those hard to see had
// 4.6 and more, bare board has 2.
const reliefLeast = 3.5

// relief is how much structure lies under a silhouette, of the bare board's:
// the mean logarithm of the squared slopes of brightness over its median. Lines
// between squares and other pieces do not count.
func (w *witness) relief(m standing) float64 {
	if w.ridges == nil {
		w.ridges = w.levels()
	}
	sum, n := 0.0, 0.0
	for _, c := range m.covers {
		if k := w.scene.kinds[c.Pixel]; c.Alpha > shows && k != background.MixedGround && w.scene.stack.Open(c.Pixel) > 0.98 {
			sum += math.Log1p(w.slope2(c.Pixel) / w.ridges[k])
			n++
		}
	}
	const few = 30
	if n < few {
		return 0
	}
	return sum / n
}

// levels is the median squared slope of each ground where it lies open.
func (w *witness) levels() []float64 {
	out := make([]float64, background.NoGround+1)
	for kind := range out {
		var all []float64
		for _, i := range w.scene.samples {
			if int(w.scene.kinds[i]) == kind && w.scene.stack.Open(i) > 0.98 {
				all = append(all, w.slope2(i))
			}
		}
		out[kind] = math.Inf(1) // never seen open
		if len(all) > 0 {
			out[kind] = max(1e-9, numeric.Median(all))
		}
	}
	out[background.NoGround] = out[background.LightGround] // what lies there is not known: about as smooth
	return out
}

// slope2 is the squared slope of the brightness at a pixel.
func (w *witness) slope2(i int32) float64 {
	p, l := w.plate, w.plate.Softened()
	x, y := int(i)%p.W, int(i)/p.W
	if x == 0 || y == 0 || x == p.W-1 || y == p.H-1 {
		return 0
	}
	dx, dy := l[i+1]-l[i-1], l[int(i)+p.W]-l[int(i)-p.W]
	return float64(dx*dx + dy*dy)
}

// ascend moves a piece uphill to where its silhouette fits best.
func (w *witness) ascend(m standing, score float64) (standing, float64) {
	for step := 0.08 * w.scene.setup.Square; step > 0.4e-3; step /= 2 {
		for range 6 {
			before, here := score, m
			for _, d := range [4]frame.Spot[frame.Board]{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
				there := w.scene.standAt(here.piece, here.square, here.at.Add(d))
				if v := w.fits(there); v > score {
					score, m = v, there
				}
			}
			if score-before < 0.05 {
				break
			}
		}
	}
	return m, score
}
