// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// WeighKinds takes back part of what the outlines say of the kinds of a promotion,
// or of a pawn not yet exchanged, and adds what the head says; what all of
// them have together stays. Of several plies each promotion is weighed by itself.
func WeighKinds(g *likelihood.Observation, met []Known, gs []hypothesis.Hypothesis) {
	best := nats.Impossible[nats.LogPosterior]()
	for i := range gs {
		best = max(best, gs[i].Posterior)
	}
	for _, on := range promotionSquares(gs) {
		for _, k := range kinships(gs, on) {
			top := nats.Impossible[nats.LogEvidence]()
			for _, h := range k {
				top = max(top, h.Posterior.Without(h.Prior))
			}
			if nats.LogPosterior(top) > best-hypothesis.Followed {
				weighPromotion(g, met, k, on, top)
			}
		}
	}
}

// promotionSquares lists the squares on which promoted pieces stand by any hypothesis.
func promotionSquares(gs []hypothesis.Hypothesis) (out []chess.Square) {
	for i := range gs {
		on, _ := gs[i].Promotions()
		for _, s := range on {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// kin is what hypotheses share that differ in nothing but the kind on one square: the pawn's
// squares, or the board without that kind.
type kin struct {
	pawn  chess.Move
	board scene.Occupancy
}

// kinships groups the hypotheses by whose pawn was promoted on a square, or is to be.
func kinships(gs []hypothesis.Hypothesis, on chess.Square) map[kin][]*hypothesis.Hypothesis {
	out := map[kin][]*hypothesis.Hypothesis{}
	for i := range gs {
		h := &gs[i]
		squares, _ := h.Promotions()
		if !slices.Contains(squares, on) || h.Arrived(on) == nil {
			continue
		}
		var is kin
		if m := h.Move; h.State == hypothesis.Several {
			is.board = h.After
			is.board[on] = chess.MakePiece(h.Arrived(on).Piece.Color(), chess.Pawn)
		} else if is.pawn = chess.MakeMove(m.From(), m.To(), chess.NoKind); h.After[m.From()] != chess.NoPiece {
			continue
		}
		out[is] = append(out[is], h)
	}
	return out
}

// weighPromotion weighs the kinds of one promotion anew; top is the best evidence for any of
// them.
func weighPromotion(g *likelihood.Observation, met []Known, kinds []*hypothesis.Hypothesis, on chess.Square, top nats.LogEvidence) {
	seen := PromotedAs(g, met, kinds, on)
	before, after := 0.0, 0.0
	now := make([]float64, len(kinds))
	for n, h := range kinds {
		now[n] = math.Exp(float64(h.Prior) + seen.Outlines*float64(h.Posterior.Without(h.Prior)-top) + seen.Nats[n])
		before, after = before+math.Exp(float64(h.Posterior-nats.LogPosterior(top))), after+now[n]
	}
	state := kinds[slices.Index(now, slices.Max(now))].State
	isFinished := state == hypothesis.Moved || state == hypothesis.Several
	for n, h := range kinds {
		p := now[n] / after
		if seen.Contested && isFinished {
			p = (1-undecided)*p + undecided/float64(len(kinds))
		}
		h.Posterior = nats.LogPosterior(top) + nats.LogPosterior(math.Log(before*p))
	}
}
