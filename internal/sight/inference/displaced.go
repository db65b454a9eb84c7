// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Displaced looks for pieces where no rule puts them: starting from a hypothesis it adds,
// removes, exchanges or displaces one piece after the other as long as the
// picture gets likelier by more than such a change is unlikely. It returns the
// hypothesis extended, and false when nothing was found.
func (q *Search) Displaced(from hypothesis.Hypothesis) (hypothesis.Hypothesis, bool) {
	g := from
	g.State = hypothesis.Illegal
	found := false
	for range 8 { // more pieces than that do not wander in one picture
		next, ok := q.oneDisplaced(g)
		if !ok || q.Spent > strayMost {
			break
		}
		q.refine(&next)
		if q.newcomers(&next.After) > q.newcomers(&g.After) && q.onEdge(&next) {
			break // a glare: nobody puts down a piece from nowhere, and it on a line
		}
		g, found = next, true
	}
	return g, found
}

// onEdge says whether a piece that arrived under a hypothesis fits best on a line.
func (q *Search) onEdge(g *hypothesis.Hypothesis) bool {
	for _, m := range g.Stood {
		if m.Nudged == nil && q.Scene.Setup.Aside(m.Square, m.At) > scene.OnLine {
			return true
		}
	}
	return false
}

// oneDisplaced is the best single change, if it makes the hypothesis likelier.
func (q *Search) oneDisplaced(g hypothesis.Hypothesis) (hypothesis.Hypothesis, bool) {
	best, found := g, false
	odd := q.Below(g.Gone, g.Stood, float32(likelihood.Strange*q.Model.Conditions.OutlierDensity))
	fresh := make([]bool, len(q.Base)) // the pieces whose shadows are new
	for k := range g.Stood {
		g.Stood[k].Mark(fresh, scene.Shows)
	}
	try := func(c hypothesis.Hypothesis, ok bool) {
		if ok && c.Posterior > best.Posterior && !q.shadowed(&g, &c, odd, fresh) {
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
		for _, p := range q.alternatives(g.After[s]) {
			try(q.with(g, s, p, hypothesis.PriorStray))
		}
	}
	const wide = 12 // squares; where more looks odd no piece was displaced
	if len(stirred) <= wide {
		for _, s := range stirred {
			for _, t := range stirred {
				if q.Spent < strayMost {
					try(q.moved(g, s, t))
				}
			}
		}
	}
	return best, found
}

// shadowed says whether the piece that a change brings to an empty square stands
// where a piece that arrived under the hypothesis may cast just such a shadow. odd
// marks what looks changed under the hypothesis, fresh its new pieces.
func (q *Search) shadowed(g, c *hypothesis.Hypothesis, odd, fresh []bool) bool {
	for k := range c.Stood {
		m := &c.Stood[k]
		if g.After[m.Square] == chess.NoPiece && q.shade(m, odd, fresh).IsShadow(&q.Conditions) {
			return true
		}
	}
	return false
}

// shade is what looks changed under a piece, as a residual; fresh marks the pieces
// whose shadows are new. It lies at one of them if what looks changed reaches
// from there to here.
func (q *Search) shade(m *scene.Placement, odd, fresh []bool) Residual {
	var p Residual
	var starts []int
	seen := map[int]bool{}
	for _, c := range m.Covers {
		if i := int(c.Pixel); c.Alpha >= 0.5 && odd[i] {
			starts = append(starts, i)
			seen[i] = true
			p.add(q.departure(i), len(starts))
		}
	}
	take := func(k int) bool {
		p.AtBase = p.AtBase || fresh[k]
		is := odd[k] && !seen[k]
		if is {
			seen[k] = true
		}
		return is
	}
	pixels.Flood(starts, q.around, take, func(int) bool { return !p.AtBase })
	return p
}

// moved is the hypothesis with the piece of one square on another, which is one
// change: any of its steps by itself may be less likely than the hypothesis.
func (q *Search) moved(g hypothesis.Hypothesis, from, to chess.Square) (hypothesis.Hypothesis, bool) {
	p := g.After[from]
	if p == chess.NoPiece || from == to || g.After[to] == p {
		return g, false
	}
	off, ok := q.with(g, from, chess.NoPiece, hypothesis.PriorStray)
	if !ok {
		return g, false
	}
	return q.with(off, to, p, 1.0/64)
}

// stirred says whether enough of a square looks other than expected for something to have
// happened on it: of the pixels of a pawn there, or of the piece that stands there.
func (q *Search) stirred(s chess.Square, odd []bool) bool {
	for _, covers := range q.Scene.Covers(s) {
		n := 0
		for _, c := range covers {
			if odd[c.Pixel] {
				n++
			}
		}
		if len(covers) > 0 && float64(n) >= disturbance*float64(len(covers)) {
			return true
		}
	}
	return false
}

// newcomer is that prior for this picture: doubled for the first, where nothing
// is remembered of the bare squares and a person has just said who stands where.
func (q *Search) newcomer() nats.LogPrior {
	if q.Model.Phase() == background.Meeting {
		return 2 * fromNowhere
	}
	return fromNowhere
}

// newcomers counts the pieces of a board beyond those that stood there before, by side.
func (q *Search) newcomers(after *scene.Occupancy) int {
	var more [2]int
	for s := range after {
		if p := after[s]; p != chess.NoPiece {
			more[p.Color()]++
		}
		if p := q.Scene.Board[s]; p != chess.NoPiece {
			more[p.Color()]--
		}
	}
	return max(0, more[0]) + max(0, more[1])
}

// with is the hypothesis with something else on one square, which has a prior
// probability.
func (q *Search) with(g hypothesis.Hypothesis, s chess.Square, p chess.Piece, prior nats.Probability) (hypothesis.Hypothesis, bool) {
	was := g.Posterior
	had := q.newcomers(&g.After)
	g.After[s] = p
	g.Prior += prior.Log() + q.newcomer()*nats.LogPrior(q.newcomers(&g.After)-had)
	g.Gone = slices.Clone(g.Gone)
	for k := range q.Scene.Pieces {
		if q.Scene.Pieces[k].Square == s {
			g.Gone[k] = true
		}
	}
	stood := make([]scene.Placement, 0, len(g.Stood)+1)
	for _, m := range g.Stood {
		if m.Square != s {
			stood = append(stood, m)
		}
	}
	if p != chess.NoPiece {
		c := place{p, s}
		at, ok := q.places[c]
		if !ok {
			pieces := append(slices.Clone(stood), q.Scene.Put(p, s, q.Scene.Setup.Centre(s)))
			if q.Evidence(g.Gone, pieces).Posterior(g.Prior) < was-hypothesis.Followed { // no better place in the square makes that good
				return g, false
			}
			at = q.settle(g.Gone, c, stood)
			q.places[c] = at
		}
		stood = append(stood, q.Scene.Put(p, s, at))
	}
	g.Stood = stood
	g.Posterior = q.Evidence(g.Gone, stood).Posterior(g.Prior)
	return g, true
}

// alternatives lists what might stand on a square instead: nothing, or a piece
// of either side in the shapes that differ most.
func (q *Search) alternatives(p chess.Piece) []chess.Piece {
	var out []chess.Piece
	if p != chess.NoPiece {
		out = append(out, chess.NoPiece)
	}
	for _, c := range [2]chess.Color{chess.White, chess.Black} {
		if p != chess.NoPiece && p.Color() == c {
			continue
		}
		for _, k := range scene.Extremes {
			out = append(out, chess.MakePiece(c, k))
		}
	}
	return out
}

// LawfulAs gives a hypothesis found by displacing pieces the name of the lawful one it ended
// at: a piece taken off and put back on its square was only nudged.
func LawfulAs(s hypothesis.Hypothesis, gs []hypothesis.Hypothesis) hypothesis.Hypothesis {
	for i := range gs {
		if gs[i].After == s.After && gs[i].State != hypothesis.Illegal {
			s.Posterior = s.Posterior.With(gs[i].Prior - nudgeCost - s.Prior)
			s.Prior, s.State, s.Move, s.Orders = gs[i].Prior, gs[i].State, gs[i].Move, gs[i].Orders
			return s
		}
	}
	return s
}
