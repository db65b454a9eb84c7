// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Search is the search for the best explanation of one observation.
type Search struct {
	*likelihood.Observation
	places map[place]frame.Spot[frame.Board] // where an arrived piece fits best
	odd    []bool                            // pixels that look changed
	climbs climbs
}

// place is a piece on a square.
type place struct {
	piece  chess.Piece
	square chess.Square
}

// New begins the search on one observation.
func New(g *likelihood.Observation) *Search {
	q := NewUnmarked(g)
	q.odd = q.Below(make([]bool, len(g.Scene.Pieces)), nil, float32(likelihood.Strange*g.Model.Conditions.OutlierDensity))
	return q
}

// NewUnmarked is a search that weighs pieces at places: no pixel counts as changed.
func NewUnmarked(g *likelihood.Observation) *Search {
	return &Search{Observation: g, places: map[place]frame.Spot[frame.Board]{}}
}

// change lists what a board differs in from the remembered one.
func (q *Search) change(after scene.Occupancy) (gone []bool, come []place) {
	gone = make([]bool, len(q.Scene.Pieces))
	for k := range q.Scene.Pieces {
		s := q.Scene.Pieces[k].Square
		gone[k] = after[s] != q.Scene.Pieces[k].Piece
	}
	for s, p := range after {
		if p != chess.NoPiece && p != q.Scene.Board[s] {
			come = append(come, place{p, chess.Square(s)})
		}
	}
	return gone, come
}

// off is the logarithm of the prior of a piece's place in its square.
func (q *Search) off(s chess.Square, at frame.Spot[frame.Board]) nats.LogPrior {
	const never = -300.0 // nats: it is the next square's
	d := at.Distance(q.Scene.Setup.Centre(s)) / q.Scene.Setup.Square / scene.PlacingSigma
	if q.Scene.Setup.Aside(s, at) > scene.OwnSquare {
		return nats.LogPrior(never - d*d/2)
	}
	return nats.LogPrior(-d * d / 2)
}

// Evidence weighs a set of pieces, with the prior of their places.
func (q *Search) Evidence(gone []bool, stood []scene.Placement) nats.LogEvidence {
	v := nats.LogEvidence(q.Weigh(gone, stood))
	for k := range stood {
		v = v.With(q.placed(&stood[k]))
	}
	return v
}

// placed is the logarithm of the prior of a piece that arrived, or was touched, or
// stands in another light: of its place and of that having happened to it.
func (q *Search) placed(m *scene.Placement) nats.LogPrior {
	switch {
	case m.Relit:
		return -relitCost
	case m.Lies:
		return 0 // it lies where it came to rest
	case m.Nudged != nil:
		return q.off(m.Square, m.At) - nudgeCost
	}
	return q.off(m.Square, m.At)
}

// weighAlone weighs a hypothesis with every arrived piece where it fits best by itself.
func (q *Search) weighAlone(g *hypothesis.Hypothesis) {
	gone, come := q.change(g.After)
	g.Stood = make([]scene.Placement, 0, len(come))
	for _, c := range come {
		at, ok := q.places[c]
		if !ok {
			at = q.Scene.Setup.Centre(c.square)
			if q.stirred(c.square, q.odd) {
				at = q.settle(gone, c, g.Stood)
			}
			q.places[c] = at
		}
		g.Stood = append(g.Stood, q.Scene.Put(c.piece, c.square, at))
	}
	g.Gone = gone
	g.Posterior = q.Evidence(gone, g.Stood).Posterior(g.Prior)
}

// refine moves the arrived pieces of a hypothesis, and pieces of it that were touched,
// to where they fit best.
func (q *Search) refine(g *hypothesis.Hypothesis) {
	gone := g.Gone
	g.Evidence = q.Evidence(gone, g.Stood)
	all := func() {
		for k := range g.Stood {
			if !g.Stood[k].Relit {
				g.Evidence = q.climb(gone, g.Stood, k, g.Evidence)
			}
		}
	}
	all()
	q.nudge(g)
	if len(g.Stood) > 1 {
		all()
	}
	g.Posterior = g.Evidence.Posterior(g.Prior)
}

// Best weighs all hypotheses, polishes the leaders and puts the best first.
func (q *Search) Best(gs []hypothesis.Hypothesis) {
	for i := range gs {
		q.weighAlone(&gs[i])
	}
	hypothesis.Sort(gs)
	const leaders = 5
	for i := range min(leaders, len(gs)) {
		q.refine(&gs[i])
	}
	hypothesis.Sort(gs)
}
