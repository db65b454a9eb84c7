// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
)

// WeighKinds takes back part of what the outlines say of the kinds of a promotion,
// or of a pawn not yet exchanged, and adds what the head says; what all of
// them have together stays.
func WeighKinds(g *likelihood.Observation, met []Known, gs []hypothesis.Hypothesis) {
	kinds := map[chess.Move][]*hypothesis.Hypothesis{} // by the pawn's squares
	best := nats.Impossible[nats.LogPosterior]()
	for i := range gs {
		best = max(best, gs[i].Posterior)
		m := gs[i].Move
		if m.Promotion() != chess.NoKind && gs[i].After[m.From()] == chess.NoPiece && gs[i].Promoted() != nil {
			pawn := chess.MakeMove(m.From(), m.To(), chess.NoKind)
			kinds[pawn] = append(kinds[pawn], &gs[i])
		}
	}
	for _, k := range kinds {
		top := nats.Impossible[nats.LogEvidence]()
		for _, h := range k {
			top = max(top, h.Posterior.Without(h.Prior))
		}
		if nats.LogPosterior(top) > best-hypothesis.Followed {
			weighPromotion(g, met, k, top)
		}
	}
}

// weighPromotion weighs the kinds of one promotion anew; top is the best evidence for any of
// them.
func weighPromotion(g *likelihood.Observation, met []Known, kinds []*hypothesis.Hypothesis, top nats.LogEvidence) {
	seen := PromotedAs(g, met, kinds)
	before, after := 0.0, 0.0
	now := make([]float64, len(kinds))
	for n, h := range kinds {
		now[n] = math.Exp(float64(h.Prior) + seen.Outlines*float64(h.Posterior.Without(h.Prior)-top) + seen.Nats[n])
		before, after = before+math.Exp(float64(h.Posterior-nats.LogPosterior(top))), after+now[n]
	}
	move := kinds[slices.Index(now, slices.Max(now))].State == hypothesis.Moved
	for n, h := range kinds {
		p := now[n] / after
		if seen.Contested && move {
			p = (1-undecided)*p + undecided/float64(len(kinds))
		}
		h.Posterior = nats.LogPosterior(top) + nats.LogPosterior(math.Log(before*p))
	}
}
