// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"slices"

	"boardhand/internal/chess"
)

// excused lists the hypotheses that break no rule and lead the others, with those
// pieces set straight over which the hypothesis at the head differs, if that breaks a
// rule, or on which it leaves something unexplained. Each is asked in turn for
// what no rule allows, so that a piece that is gone is still missed.
func (q *inquiry) excused(gs []hypothesis) []hypothesis {
	const leaders = 2
	var out []hypothesis
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
		if s, ok := q.stray(s); ok && !slices.ContainsFunc(gs, func(o hypothesis) bool { return s.onlyKinds(&o) }) {
			out = append(out, lawfulAs(s, gs))
		}
	}
	return out
}

// leftOn lists the squares on which a hypothesis leaves so much unexplained that it
// would be doubted.
func (q *inquiry) leftOn(g *hypothesis) []chess.Square {
	var out []chess.Square
	for _, p := range q.residue(g) {
		if p.inside > leavesDoubt*q.scene.setup.leastFoot()*1e6 {
			out = merge(out, p.squares)
		}
	}
	return out
}

// straightened is a hypothesis with the pieces on some squares set straight, though they
// changed too little to look touched: a light piece on a light square does, however
// far it was moved. It must look like himself there, for bare board may have its
// colours. False when that explains nothing.
func (q *inquiry) straightened(g hypothesis, on []chess.Square) (hypothesis, bool) {
	before := g.score
	g.gone, g.stood = slices.Clone(g.gone), slices.Clone(g.stood)
	g.score -= g.prior // as nudging counts it
	for k := range q.scene.pieces {
		if !g.gone[k] && slices.Contains(on, q.scene.pieces[k].square) {
			q.tryNudge(&g, k, false, true)
		}
	}
	g.score += g.prior
	return g, g.score > before
}

// attend looks, once a hypothesis is believed, for pieces that were set straight while
// something else happened, and which their colours explain where they stood just
// as well: by clearly more than their places were unsure, for a shadow on a piece
// moves it a little. It changes where pieces stand, not what is read.
func (q *inquiry) attend(g *hypothesis) {
	const clearly, most = 2, 5 // σ; pieces, those first who look least like themselves
	if g.attended || q.model.phase() == meeting || !q.model.around {
		return
	}
	altered := q.altered(g.gone)
	now := *g
	now.score = q.score(g.gone, g.stood)
	for _, k := range altered[:min(most, len(altered))] {
		then := now
		then.gone = slices.Clone(now.gone)
		q.tryNudge(&then, k, true, true)
		if m := &q.scene.pieces[k]; then.gone[k] && then.stood[len(then.stood)-1].at.Distance(m.at) > clearly*m.sigma {
			now = then
		}
	}
	g.gone, g.stood, g.attended = now.gone, now.stood, true
}

// altered lists the pieces of which a quarter looks more like anybody of their side
// than like themselves as they stood, those with the largest share first.
func (q *inquiry) altered(gone []bool) []int {
	var out []int
	share := make([]float64, len(gone))
	for k, m := range q.scene.pieces {
		all, other := 0.0, 0.0
		for _, c := range m.covers {
			if c.Alpha > 0.5 {
				all++
				if q.same[c.Pixel] < q.piece(c.Pixel, m.piece, c.Band) {
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
