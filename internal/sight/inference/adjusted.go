// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"cmp"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/scene"
)

// Adjusted lists the hypotheses that break no rule and lead the others, with those
// pieces set straight over which the hypothesis at the head differs, if that breaks a
// rule, or on which it leaves something unexplained. Each is asked in turn for
// what no rule allows, so that a piece that is gone is still missed.
func (q *Search) Adjusted(gs []hypothesis.Hypothesis) []hypothesis.Hypothesis {
	const leaders = 2
	var out []hypothesis.Hypothesis
	left, n := q.leftOn(&gs[0]), 0
	for _, g := range gs {
		if g.State == hypothesis.Illegal || n == leaders {
			continue
		}
		n++
		over := left
		if gs[0].State == hypothesis.Illegal {
			over = scene.Merge(left, scene.Differing(g.After, gs[0].After))
		}
		s, ok := q.adjusted(g, over)
		if !ok {
			continue
		}
		out = append(out, s)
		if s, ok := q.Displaced(s); ok && !slices.ContainsFunc(gs, func(o hypothesis.Hypothesis) bool { return s.OnlyKinds(&o) }) {
			out = append(out, LawfulAs(s, gs))
		}
	}
	return out
}

// leftOn lists the squares on which a hypothesis leaves so much unexplained that it
// would be doubted.
func (q *Search) leftOn(g *hypothesis.Hypothesis) []chess.Square {
	var out []chess.Square
	for _, p := range q.Residuals(g) {
		if p.Inside > LeavesDoubt*q.Scene.Setup.LeastBase()*1e6 {
			out = scene.Merge(out, p.Squares)
		}
	}
	return out
}

// adjusted is a hypothesis with the pieces on some squares set straight, though they
// changed too little to look touched: a light piece on a light square does, however
// far it was moved. It must look like itself there, for bare board may have its
// colours. False when that explains nothing.
func (q *Search) adjusted(g hypothesis.Hypothesis, on []chess.Square) (hypothesis.Hypothesis, bool) {
	before := g.Posterior
	g.Gone, g.Stood = slices.Clone(g.Gone), slices.Clone(g.Stood)
	g.Evidence = g.Posterior.Without(g.Prior)
	for k := range q.Scene.Pieces {
		if !g.Gone[k] && slices.Contains(on, q.Scene.Pieces[k].Square) {
			q.tryNudge(&g, k, false, true)
		}
	}
	g.Posterior = g.Evidence.Posterior(g.Prior)
	return g, g.Posterior > before
}

// Attend looks, once a hypothesis is believed, for pieces that were set straight while
// something else happened, and which their colours explain where they stood just
// as well: by clearly more than their places were unsure, for a shadow on a piece
// moves it a little. It changes where pieces stand, not what is read.
func (q *Search) Attend(g *hypothesis.Hypothesis) {
	const clearly = 2 // σ
	if g.Attended || q.Model.Phase() == background.Meeting || !q.Model.Around {
		return
	}
	altered := q.altered(g.Gone)
	now := *g
	now.Evidence = q.Evidence(g.Gone, g.Stood)
	for _, k := range altered[:min(mostTouched, len(altered))] { // those first who look least like themselves
		then := now
		then.Gone = slices.Clone(now.Gone)
		q.tryNudge(&then, k, true, true)
		if m := &q.Scene.Pieces[k]; then.Gone[k] && then.Stood[len(then.Stood)-1].At.Distance(m.At) > clearly*m.Sigma {
			now = then
		}
	}
	g.Gone, g.Stood, g.Attended = now.Gone, now.Stood, true
}

// altered lists the pieces of which a quarter looks more like anybody of their side
// than like themselves as they stood, those with the largest share first.
func (q *Search) altered(gone []bool) []int {
	var out []int
	share := make([]float64, len(gone))
	for k, m := range q.Scene.Pieces {
		all, other := 0.0, 0.0
		for _, c := range m.Covers {
			if c.Alpha > 0.5 {
				all++
				if q.Same[c.Pixel] < q.PieceDensity(c.Pixel, m.Piece, c.Band) {
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
