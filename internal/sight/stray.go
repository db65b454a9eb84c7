// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// strayMost is how many pixels a search may weigh before it makes do with what it
// has found: four times what the longest of a ray-traced game weighed.
const strayMost = 4e6

// stray looks for pieces where no rule puts them: starting from a hypothesis it adds,
// removes, exchanges or displaces one piece after the other as long as the
// picture gets likelier by more than such a change is unlikely. It returns the
// hypothesis extended, and false when nothing was found.
func (q *inquiry) stray(from hypothesis) (hypothesis, bool) {
	g := from
	g.state = Illegal
	found := false
	for range 8 { // more pieces than that do not wander in one picture
		next, ok := q.oneStray(g)
		if !ok || q.spent > strayMost {
			break
		}
		q.polish(&next)
		if q.newcomers(&next.after) > q.newcomers(&g.after) && q.onEdge(&next) {
			break // a glare: nobody puts down a piece from nowhere, and it on a line
		}
		g, found = next, true
	}
	return g, found
}

// onEdge says whether a piece that arrived under a hypothesis fits best on a line.
func (q *inquiry) onEdge(g *hypothesis) bool {
	for _, m := range g.stood {
		if m.nudged == nil && q.scene.setup.aside(m.square, m.at) > onLine {
			return true
		}
	}
	return false
}

// oneStray is the best single change, if it makes the hypothesis likelier.
func (q *inquiry) oneStray(g hypothesis) (hypothesis, bool) {
	best, found := g, false
	odd := q.below(&g, float32(strange*q.model.air.Flat))
	fresh := make([]bool, len(q.base)) // the pieces whose shadows are new
	for k := range g.stood {
		g.stood[k].mark(fresh, shows)
	}
	try := func(c hypothesis, ok bool) {
		if ok && c.score > best.score && !q.shadowed(&g, &c, odd, fresh) {
			best, found = c, true
		}
	}
	var stirred []chess.Square
	for s := range chess.NoSquare {
		if q.stirred(s, odd) || q.stirred(s, q.odd) { // a piece nudged may hide that it went
			stirred = append(stirred, s)
		}
	}
	for _, s := range stirred {
		for _, p := range q.alternatives(g.after[s]) {
			try(q.with(g, s, p, priorStray))
		}
	}
	const wide = 12 // squares; where more looks odd no piece was displaced
	if len(stirred) <= wide {
		for _, s := range stirred {
			for _, t := range stirred {
				if q.spent < strayMost {
					try(q.displaced(g, s, t))
				}
			}
		}
	}
	return best, found
}

// shadowed says whether the piece that a change brings to an empty square stands
// where a piece that arrived under the hypothesis may cast just such a shadow. odd
// marks what looks changed under the hypothesis, fresh its new pieces.
func (q *inquiry) shadowed(g, c *hypothesis, odd, fresh []bool) bool {
	for k := range c.stood {
		m := &c.stood[k]
		if g.after[m.square] == chess.NoPiece && q.shade(m, odd, fresh).cast(&q.air) {
			return true
		}
	}
	return false
}

// shade is what looks changed under a piece, as a residual; fresh marks the pieces
// whose shadows are new. It lies at one of them if what looks changed reaches
// from there to here.
func (q *inquiry) shade(m *standing, odd, fresh []bool) residual {
	var p residual
	var starts []int
	seen := map[int]bool{}
	for _, c := range m.covers {
		if i := int(c.Pixel); c.Alpha >= 0.5 && odd[i] {
			starts = append(starts, i)
			seen[i] = true
			p.add(q.departure(i), len(starts))
		}
	}
	take := func(k int) bool {
		p.foot = p.foot || fresh[k]
		is := odd[k] && !seen[k]
		if is {
			seen[k] = true
		}
		return is
	}
	pixels.Flood(starts, q.around, take, func(int) bool { return !p.foot })
	return p
}

// displaced is the hypothesis with the piece of one square on another, which is one
// change: any of its steps by itself may be less likely than the hypothesis.
func (q *inquiry) displaced(g hypothesis, from, to chess.Square) (hypothesis, bool) {
	p := g.after[from]
	if p == chess.NoPiece || from == to || g.after[to] == p {
		return g, false
	}
	off, ok := q.with(g, from, chess.NoPiece, priorStray)
	if !ok {
		return g, false
	}
	return q.with(off, to, p, 1.0/64)
}

// strange is how many times the density of an outlier a pixel must reach to
// count as just what was expected; a changed shadow stays below.
const strange = 20.0

// stirred says whether enough of a square looks other than expected for
// something to have happened on it.
func (q *inquiry) stirred(s chess.Square, odd []bool) bool {
	const share = 0.10 // of the pixels of a pawn, or of the piece that stands there
	for _, covers := range [2][]silhouette.Cover{q.scene.patch(s), q.scene.mask(s)} {
		n := 0
		for _, c := range covers {
			if odd[c.Pixel] {
				n++
			}
		}
		if len(covers) > 0 && float64(n) >= share*float64(len(covers)) {
			return true
		}
	}
	return false
}

// fromNowhere is the logarithm of the prior that a piece comes who was not on the
// board before, besides that of a stray: shadows and glares pass for such pieces
// by up to about this much, one that really came is seen by several times it.
const fromNowhere = -25.0

// newcomer is that prior for this picture: doubled for the first, where nothing
// is remembered of the bare squares and a person has just said who stands where.
func (q *inquiry) newcomer() float64 {
	if q.model.phase() == meeting {
		return 2 * fromNowhere
	}
	return fromNowhere
}

// newcomers counts the pieces of a board beyond those that stood there before, by side.
func (q *inquiry) newcomers(after *pieces) int {
	var more [2]int
	for s := range after {
		if p := after[s]; p != chess.NoPiece {
			more[p.Color()]++
		}
		if p := q.scene.board[s]; p != chess.NoPiece {
			more[p.Color()]--
		}
	}
	return max(0, more[0]) + max(0, more[1])
}

// with is the hypothesis with something else on one square, which has a prior
// probability.
func (q *inquiry) with(g hypothesis, s chess.Square, p chess.Piece, prior float64) (hypothesis, bool) {
	const hopeless = 40.0 // nats that no better place in the square makes good
	was := g.score
	had := q.newcomers(&g.after)
	g.after[s] = p
	g.prior += math.Log(prior) + q.newcomer()*float64(q.newcomers(&g.after)-had)
	g.gone = slices.Clone(g.gone)
	for k := range q.scene.pieces {
		if q.scene.pieces[k].square == s {
			g.gone[k] = true
		}
	}
	stood := make([]standing, 0, len(g.stood)+1)
	for _, m := range g.stood {
		if m.square != s {
			stood = append(stood, m)
		}
	}
	if p != chess.NoPiece {
		c := place{p, s}
		at, ok := q.places[c]
		if !ok {
			pieces := append(slices.Clone(stood), q.scene.standAt(p, s, q.scene.setup.centre(s)))
			if g.prior+q.score(g.gone, pieces) < was-hopeless {
				return g, false
			}
			at = q.settle(g.gone, c, stood)
			q.places[c] = at
		}
		stood = append(stood, q.scene.standAt(p, s, at))
	}
	g.stood = stood
	g.score = g.prior + q.score(g.gone, stood)
	return g, true
}

// alternatives lists what might stand on a square instead: nothing, or a piece
// of either side in the shapes that differ most.
func (q *inquiry) alternatives(p chess.Piece) []chess.Piece {
	var out []chess.Piece
	if p != chess.NoPiece {
		out = append(out, chess.NoPiece)
	}
	for _, c := range [2]chess.Color{chess.White, chess.Black} {
		if p != chess.NoPiece && p.Color() == c {
			continue
		}
		for _, k := range [2]chess.Kind{chess.Pawn, chess.Queen} {
			out = append(out, chess.MakePiece(c, k))
		}
	}
	return out
}
