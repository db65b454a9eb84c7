// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"slices"

	"boardhand/internal/chess"
)

// excused lists the guesses that break no rule and lead the others, with those
// men set straight over whom the guess at the head differs, if that breaks a
// rule, or on whom it leaves something unexplained. Each is asked in turn for
// what no rule allows, so that a man who is gone is still missed.
func (q *inquiry) excused(gs []guess) []guess {
	const leaders = 2
	var out []guess
	left, n := q.leftOn(&gs[0]), 0
	for _, g := range gs {
		if g.state == Illegal || n == leaders {
			continue
		}
		n++
		over := left
		if gs[0].state == Illegal {
			over = merge(left, differing(g.after, gs[0].after))
		}
		s, ok := q.straightened(g, over)
		if !ok {
			continue
		}
		out = append(out, s)
		if s, ok := q.stray(s); ok && !slices.ContainsFunc(gs, func(o guess) bool { return s.onlyKinds(&o) }) {
			out = append(out, lawfulAs(s, gs))
		}
	}
	return out
}

// onlyKinds says whether a guess differs from a lawful one in nothing but the
// kinds of men: outlines are too generic to break a rule by.
func (g *guess) onlyKinds(lawful *guess) bool {
	if lawful.state == Illegal || g.after == lawful.after {
		return false
	}
	for s, p := range g.after {
		if o := lawful.after[s]; p != o && (p == chess.NoPiece || o == chess.NoPiece || p.Color() != o.Color()) {
			return false
		}
	}
	return true
}

// leftOn lists the squares on which a guess leaves so much unexplained that it
// would be doubted.
func (q *inquiry) leftOn(g *guess) []chess.Square {
	var out []chess.Square
	for _, p := range q.residue(g) {
		if p.inside > leavesDoubt*q.eye.setup.leastFoot()*1e6 {
			out = merge(out, p.squares)
		}
	}
	return out
}

// strained says whether a guess needs a man touched who does not look it.
func (g *guess) strained() bool {
	return slices.ContainsFunc(g.stood, func(m standing) bool { return m.nudged != nil && !m.plain })
}

// straightened is a guess with the men on some squares set straight, though they
// changed too little to look touched: a light man on a light square does, however
// far he was moved. He must look like himself there, for bare board may have his
// colours. False when that explains nothing.
func (q *inquiry) straightened(g guess, on []chess.Square) (guess, bool) {
	before := g.score
	g.gone, g.stood = slices.Clone(g.gone), slices.Clone(g.stood)
	g.score -= g.prior // as nudging counts it
	for k := range q.eye.men {
		if !g.gone[k] && slices.Contains(on, q.eye.men[k].square) {
			q.tryNudge(&g, k, false, true)
		}
	}
	g.score += g.prior
	return g, g.score > before
}

// attend looks, once a guess is believed, for men who were set straight while
// something else happened, and whom their colours explain where they stood just
// as well: by clearly more than their places were unsure, for a shadow on a man
// moves him a little. It changes where men stand, not what is read.
func (q *inquiry) attend(g *guess) {
	const clearly, most = 2, 5 // σ; men, those first who look least like themselves
	if g.attended || q.eye.last == nil || !q.eye.around {
		return
	}
	altered := q.altered(g.gone)
	now := *g
	now.score = q.score(g.gone, g.stood)
	for _, k := range altered[:min(most, len(altered))] {
		then := now
		then.gone = slices.Clone(now.gone)
		q.tryNudge(&then, k, true, true)
		if m := &q.eye.men[k]; then.gone[k] && then.stood[len(then.stood)-1].at.Distance(m.at) > clearly*m.sigma {
			now = then
		}
	}
	g.gone, g.stood, g.attended = now.gone, now.stood, true
}

// altered lists the men of whom a quarter looks more like anybody of their side
// than like themselves as they stood, those with the largest share first.
func (q *inquiry) altered(gone []bool) []int {
	var out []int
	share := make([]float64, len(gone))
	for k, m := range q.eye.men {
		all, other := 0.0, 0.0
		for _, c := range m.covers {
			if c.Alpha > 0.5 {
				all++
				if q.same[c.Pixel] < q.man(c.Pixel, m.piece, c.Band) {
					other++
				}
			}
		}
		if share[k] = other / max(1, all); !gone[k] && share[k] > 0.25 {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(share[b], share[a]) })
	return out
}
