// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"cmp"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Seek tries the whole field and improves the best places.
func (q *Search) Seek(g *hypothesis.Hypothesis, p chess.Piece) (scene.Placement, nats.LogEvidence) {
	type spot struct {
		m        scene.Placement
		evidence nats.LogEvidence
	}
	var all []spot
	f, step := q.Scene.Setup.HalfField(), seekStep*q.Scene.Setup.Square
	for y := -f + step; y < f; y += step {
		for x := -f + step; x < f; x += step {
			m := q.Scene.Put(p, q.nearest(x, y), frame.Spot[frame.Board]{X: x, Y: y})
			all = append(all, spot{m, q.Evidence(g.Gone, []scene.Placement{m})})
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.evidence, a.evidence) })
	best := spot{evidence: nats.Impossible[nats.LogEvidence]()}
	for _, s := range all[:min(seekBest, len(all))] {
		stood := []scene.Placement{s.m}
		if v := q.climb(g.Gone, stood, 0, s.evidence); v > best.evidence {
			best = spot{stood[0], v}
		}
	}
	return best.m, best.evidence
}

// nearest is the square that a place lies in.
func (q *Search) nearest(x, y float64) chess.Square {
	return q.Scene.Setup.SquareAt(frame.Spot[frame.Board]{X: x, Y: y})
}
