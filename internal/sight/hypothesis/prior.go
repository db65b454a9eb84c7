// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/nats"
)

// promotes is the logarithm of how much oftener than one in four a pawn is
// exchanged for a kind: nine times in ten for a queen (common practice, no
// source), or more surely for the kind that somebody was asked to put there.
func promotes(m, expected chess.Move) nats.LogPrior {
	usual, share := chess.Queen, 0.9
	if k := expected.Promotion(); k != chess.NoKind && m.From() == expected.From() && m.To() == expected.To() {
		usual, share = k, 0.97
	}
	switch m.Promotion() {
	case chess.NoKind:
		return 0
	case usual:
		return nats.Probability(4 * share).Log()
	}
	return nats.Probability(4 * (1 - share) / 3).Log()
}

// FavourSaid makes all hypotheses but no change less likely: before the first picture
// somebody has just said who stands where.
func FavourSaid(gs []Hypothesis) {
	const seldom = 0.05 // how often it is wrong or has moved meanwhile, beside the usual
	for k := range gs {
		if gs[k].State != Same {
			gs[k].Prior += nats.Probability(seldom).Log()
		}
	}
}

// SequencePrior is the logarithm of the prior that a picture shows finished moves, before
// which they are and how many.
var SequencePrior = nats.Probability(priorMoves / missed).Log()

// PlyPrior is the logarithm of the prior of one more ply, one of so many legal ones, that
// no picture has shown.
func PlyPrior(m chess.Move, legal int) nats.LogPrior {
	return nats.Probability(missed/float64(legal)).Log() + promotes(m, 0)
}
