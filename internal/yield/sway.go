// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"math"
	"slices"

	"boardhand/internal/budget"
)

// sway is what each tolerance does alone: the margins of the machine as drawn, and with
// one tolerance after the other at either end.
type sway struct {
	drawn []float64
	ends  [budget.Count][2][]float64
}

// sway goes through all tolerances. That of pieces is taken at the same end for all.
func (m *Model) sway() sway {
	var s sway
	s.drawn = m.withEnds([budget.Count]float64{})
	for k := range budget.Count {
		for e, sign := range [2]float64{-1, 1} {
			var at [budget.Count]float64
			at[k] = sign
			s.ends[k][e] = m.withEnds(at)
		}
	}
	return s
}

// withEnds are the margins with each tolerance at a share of its way to an end.
func (m *Model) withEnds(at [budget.Count]float64) []float64 {
	b := bench{Model: m}
	x := build{pieces: slices.Clone(m.pieces)}
	for k, share := range at {
		if share != 0 {
			x.set(&m.budget, k, share*m.budget[k].Within)
		}
	}
	return b.margins(&x, make([]float64, direct, len(m.ids)))
}

// into puts a line's swings, its root of the sum of squares and its worst case into it.
func (s sway) into(m *Model, i int, l *Line) {
	l.Worst = orNone(m.withEnds(s.stack(&m.budget, i, l))[i])
}

// stack adds up what the tolerances take of a line, each at its worse end: the root of the
// sum of squares. It returns those ends. A line that cannot be judged at an end counts
// there as having nothing left. Source: common practice of tolerancing.
func (s sway) stack(of *budget.Budget, i int, l *Line) (worst [budget.Count]float64) {
	l.Margin = s.drawn[i]
	var squares float64
	for k, t := range of {
		w := Swing{Key: t.Key, Title: t.Title, From: orNone(s.ends[k][0][i]), To: orNone(s.ends[k][1][i])}
		if w.Fall = l.Margin - min(w.From, w.To); w.Fall <= 1e-9*math.Abs(l.Margin) {
			continue
		}
		squares += w.Fall * w.Fall
		if worst[k] = 1; w.From < w.To {
			worst[k] = -1
		}
		l.Matters = append(l.Matters, w)
	}
	slices.SortStableFunc(l.Matters, func(a, b Swing) int { return compare(b.Fall, a.Fall) })
	l.Root = l.Margin - math.Sqrt(squares)
	return worst
}

// orNone is a margin, or none left where it cannot be judged.
func orNone(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// game puts into a result what matters most to a whole game: to whichever line has least
// left, in its own standard deviations.
func (s sway) game(m *Model, r *Result) {
	least := func(margins []float64) float64 {
		out := math.Inf(1)
		for _, l := range r.Lines {
			if i := slices.Index(m.ids, l.ID); l.Sigma > 0 {
				out = min(out, orNone(margins[i])/l.Sigma)
			}
		}
		return out
	}
	drawn := least(s.drawn)
	for k, t := range m.budget {
		w := Swing{Key: t.Key, Title: t.Title, From: least(s.ends[k][0]), To: least(s.ends[k][1])}
		if w.Fall = drawn - min(w.From, w.To); w.Fall > 1e-9 {
			r.Matters = append(r.Matters, w)
		}
	}
	slices.SortStableFunc(r.Matters, func(a, b Swing) int { return compare(b.Fall, a.Fall) })
}
