// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
)

// inquiry is the search for the best explanation of one glance.
type inquiry struct {
	*glance
	places map[place]frame.Spot[frame.Board] // where an arrived piece fits best
	odd    []bool                            // pixels that look changed
}

// place is a piece on a square.
type place struct {
	piece  chess.Piece
	square chess.Square
}

func newInquiry(g *glance) *inquiry {
	q := &inquiry{glance: g, places: map[place]frame.Spot[frame.Board]{}}
	q.odd = q.below(&hypothesis{gone: make([]bool, len(g.scene.pieces))}, float32(strange*g.model.air.Flat))
	return q
}

// change lists what a board differs in from the remembered one.
func (q *inquiry) change(after pieces) (gone []bool, come []place) {
	gone = make([]bool, len(q.scene.pieces))
	for k := range q.scene.pieces {
		s := q.scene.pieces[k].square
		gone[k] = after[s] != q.scene.pieces[k].piece
	}
	for s, p := range after {
		if p != chess.NoPiece && p != q.scene.board[s] {
			come = append(come, place{p, chess.Square(s)})
		}
	}
	return gone, come
}

// off is the logarithm of the prior of a piece's place in its square.
func (q *inquiry) off(s chess.Square, at frame.Spot[frame.Board]) float64 {
	const never = -300.0 // nats: it is the next square's
	d := at.Distance(q.scene.setup.centre(s)) / q.scene.setup.Square / slack
	if q.scene.setup.aside(s, at) > ownSquare {
		return never - d*d/2
	}
	return -d * d / 2
}

// score weighs a set of pieces, with the prior of their places.
func (q *inquiry) score(gone []bool, stood []standing) float64 {
	v := q.weigh(gone, stood)
	for k := range stood {
		v += q.placed(&stood[k])
	}
	return v
}

// placed is the logarithm of the prior of a piece that arrived, or was touched, or
// stands in another light: of its place and of that having happened to it.
func (q *inquiry) placed(m *standing) float64 {
	switch {
	case m.relit:
		return -relitCost
	case m.nudged != nil:
		return q.off(m.square, m.at) - nudgeCost
	}
	return q.off(m.square, m.at)
}

// quick weighs a hypothesis with every arrived piece where it fits best by itself.
func (q *inquiry) quick(g *hypothesis) {
	gone, come := q.change(g.after)
	g.stood = make([]standing, 0, len(come))
	for _, c := range come {
		at, ok := q.places[c]
		if !ok {
			at = q.scene.setup.centre(c.square)
			if q.stirred(c.square, q.odd) {
				at = q.settle(gone, c, g.stood)
			}
			q.places[c] = at
		}
		g.stood = append(g.stood, q.scene.standAt(c.piece, c.square, at))
	}
	g.gone = gone
	g.score = g.prior + q.score(gone, g.stood)
}

// settle tries nine places in the square.
func (q *inquiry) settle(gone []bool, c place, others []standing) frame.Spot[frame.Board] {
	const step = 0.18 // of the square: 1.4 σ of a piece's place
	centre := q.scene.setup.centre(c.square)
	best, top := centre, math.Inf(-1)
	pieces := append(slices.Clone(others), standing{})
	for j := -1.0; j <= 1; j++ {
		for i := -1.0; i <= 1; i++ {
			at := centre.Add(frame.Spot[frame.Board]{X: i * step, Y: j * step}.Scale(q.scene.setup.Square))
			pieces[len(pieces)-1] = q.scene.standAt(c.piece, c.square, at)
			if v := q.score(gone, pieces); v > top {
				best, top = at, v
			}
		}
	}
	return best
}

// polish moves the arrived pieces of a hypothesis, and pieces of it that were touched,
// to where they fit best.
func (q *inquiry) polish(g *hypothesis) {
	gone := g.gone
	g.score = q.score(gone, g.stood)
	all := func() {
		for k := range g.stood {
			if !g.stood[k].relit {
				g.score = q.climb(gone, g.stood, k, g.score)
			}
		}
	}
	all()
	q.nudge(g)
	if len(g.stood) > 1 {
		all()
	}
	g.score += g.prior
}

// climb improves the place of one piece: a parabola through five places, from
// coarse steps to fine ones.
func (q *inquiry) climb(gone []bool, stood []standing, k int, score float64) float64 {
	for step := 0.07 * q.scene.setup.Square; step > 0.35e-3; step /= 2 {
		for range 8 {
			before := score
			score = q.stride(gone, stood, k, step, score)
			if score-before < 0.05 {
				break
			}
		}
	}
	return score
}

// stride tries one step each way and the top of the parabola through them.
func (q *inquiry) stride(gone []bool, stood []standing, k int, step, score float64) float64 {
	here, best := stood[k], stood[k]
	try := func(dx, dy float64) float64 {
		stood[k] = q.shifted(here, here.at.Add(frame.Spot[frame.Board]{X: dx, Y: dy}))
		v := q.score(gone, stood)
		if v > score {
			score, best = v, stood[k]
		}
		return v
	}
	middle := score
	top := func(low, high float64) float64 {
		bend := 2*middle - low - high
		if bend <= 1e-9 {
			return 0 // no top: the best of the three stands
		}
		return max(-1.5, min(1.5, (high-low)/(2*bend))) * step
	}
	x := top(try(-step, 0), try(step, 0))
	y := top(try(0, -step), try(0, step))
	if x != 0 || y != 0 {
		try(x, y)
	}
	stood[k] = best
	return score
}

// shifted is the piece at another place; a piece that was only nudged remembers
// how far its picture moved.
func (q *inquiry) shifted(m standing, at frame.Spot[frame.Board]) standing {
	n := q.scene.standAt(m.piece, m.square, at)
	n.nudged, n.plain, n.sigma = m.nudged, m.plain, m.sigma
	if n.nudged != nil {
		n.shift = q.scene.ground.Displacement(*n.nudged, at)
	}
	return n
}

// A nudge must explain the picture better by this many nats before it is
// believed, the prior that somebody touched this piece; another light on a piece by
// fewer.
const nudgeCost, relitCost = 2.5, 1.0

// nudge looks for pieces of the hypothesis that stand elsewhere in their squares, the
// most disturbed first.
func (q *inquiry) nudge(g *hypothesis) {
	const most = 5 // pieces that people touch in one move; more is the camera's doing
	var touched []int
	for k := range q.scene.pieces {
		if !g.gone[k] && q.disturbed(k) > disturbance {
			touched = append(touched, k)
		}
	}
	slices.SortStableFunc(touched, func(a, b int) int { return cmp.Compare(q.disturbed(b), q.disturbed(a)) })
	for n, k := range touched {
		q.tryNudge(g, k, true, n < most)
	}
}

// tryNudge looks whether a piece of the hypothesis was touched, or stands in another
// light, and keeps that if it explains the picture better: plain says that it
// plainly looks otherwise, touched that it may stand elsewhere.
func (q *inquiry) tryNudge(g *hypothesis, k int, plain, touched bool) {
	m, gone := q.scene.pieces[k], g.gone
	from := m.at
	m.nudged, m.plain = &from, plain
	gone[k] = true
	stood := append(slices.Clone(g.stood), m)
	at := len(stood) - 1
	top, best := g.score, slices.Clone(stood)
	best[at].relit = true
	found := false
	if plain {
		if v := q.score(gone, best); v > top {
			top, found = v, true
		}
	}
	if touched {
		v := q.climb(gone, stood, at, q.score(gone, stood))
		if u, far := q.astride(gone, stood, m); u > v {
			v, stood[at] = u, far
		}
		if v > top && stood[at].at.Distance(from) > 0.4e-3 {
			top, best, found = v, stood, true
		}
	}
	if gone[k] = found; found {
		g.stood, g.score = best, top
	}
}

// astride looks for a touched piece, the last of the standing, halfway to a
// neighbouring square, where no climb from its old place may lead.
func (q *inquiry) astride(gone []bool, stood []standing, m standing) (float64, standing) {
	const half = 0.45 // of the square
	square, at := q.scene.setup.Square, len(stood)-1
	here := stood[at]
	best, top := m, math.Inf(-1)
	for _, d := range [4]frame.Spot[frame.Board]{{X: half}, {X: -half}, {Y: half}, {Y: -half}} {
		stood[at] = q.shifted(m, q.scene.setup.centre(m.square).Add(d.Scale(square)))
		if v := q.score(gone, stood); v > top {
			best, top = stood[at], v
		}
	}
	stood[at] = best
	top = q.climb(gone, stood, at, top)
	best, stood[at] = stood[at], here
	return top, best
}

// disturbance is the share of changed pixels from which a piece may have been
// touched: a nudge of a millimetre changes more.
const disturbance = 0.12

// disturbed is the share of a piece's pixels that look changed.
func (q *inquiry) disturbed(k int) float64 {
	bad := 0
	limit := float32(doubt * background.Outlier * q.model.air.Flat)
	for _, c := range q.scene.pieces[k].covers {
		if q.base[c.Pixel] < limit || q.model.phase() == following && c.Alpha > 0.5 && q.same[c.Pixel] < limit {
			bad++
		}
	}
	return float64(bad) / float64(max(1, len(q.scene.pieces[k].covers)))
}

// doubt is how much likelier than an outlier a colour must be for a pixel to
// count as explained.
const doubt = 4.0

// best weighs all hypotheses, polishes the leaders and puts the best first.
func (q *inquiry) best(gs []hypothesis) {
	for i := range gs {
		q.quick(&gs[i])
	}
	byScore(gs)
	const leaders = 5
	for i := range min(leaders, len(gs)) {
		q.polish(&gs[i])
	}
	byScore(gs)
}
