// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"cmp"
	"slices"

	"boardhand/internal/sight/background"
	"boardhand/internal/sight/hypothesis"
)

// nudge looks for pieces of the hypothesis that stand elsewhere in their squares, the
// most disturbed first.
func (q *Search) nudge(g *hypothesis.Hypothesis) {
	var touched []int
	for k := range q.Scene.Pieces {
		if !g.Gone[k] && q.disturbed(k) > disturbance {
			touched = append(touched, k)
		}
	}
	slices.SortStableFunc(touched, func(a, b int) int { return cmp.Compare(q.disturbed(b), q.disturbed(a)) })
	for n, k := range touched {
		q.tryNudge(g, k, true, n < mostTouched)
	}
}

// tryNudge looks whether a piece of the hypothesis was touched, or stands in another
// light, and keeps that if it explains the picture better: plain says that it
// plainly looks otherwise, touched that it may stand elsewhere.
func (q *Search) tryNudge(g *hypothesis.Hypothesis, k int, plain, touched bool) {
	m, gone := q.Scene.Pieces[k], g.Gone
	from := m.At
	m.Nudged, m.Plain = &from, plain
	gone[k] = true
	stood := append(slices.Clone(g.Stood), m)
	at := len(stood) - 1
	top, best := g.Evidence, slices.Clone(stood)
	best[at].Relit = true
	found := false
	if plain {
		if v := q.Evidence(gone, best); v > top {
			top, found = v, true
		}
	}
	if touched {
		v := q.climb(gone, stood, at, q.Evidence(gone, stood))
		if u, far := q.halfway(gone, stood, m); u > v {
			v, stood[at] = u, far
		}
		if v > top && stood[at].At.Distance(from) > 0.4e-3 {
			top, best, found = v, stood, true
		}
	}
	if gone[k] = found; found {
		g.Stood, g.Evidence = best, top
	}
}

// disturbed is the share of a piece's pixels that look changed.
func (q *Search) disturbed(k int) float64 {
	bad := 0
	limit := float32(doubt * background.OutlierShare * q.Model.Conditions.OutlierDensity)
	for _, c := range q.Scene.Pieces[k].Covers {
		if q.Base[c.Pixel] < limit || q.Model.Phase() == background.Following && c.Alpha > 0.5 && q.Same[c.Pixel] < limit {
			bad++
		}
	}
	return float64(bad) / float64(max(1, len(q.Scene.Pieces[k].Covers)))
}
