// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/game"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// BoardEvidence weighs a board on the picture, each piece that arrived where it fits best by
// itself.
func (q *Search) BoardEvidence(after scene.Occupancy) nats.LogEvidence {
	g := hypothesis.Hypothesis{After: after}
	q.weighAlone(&g)
	return g.Posterior.Without(0)
}

// OddEvidence is the evidence for whatever stands on each square that looks otherwise, each by
// itself, whether any rule allows it or not: a hand, a shadow, a piece on its way.
func (q *Search) OddEvidence() nats.LogEvidence {
	b := beam{search: q, gains: map[place]nats.LogEvidence{}}
	sum := nats.LogEvidence(0)
	for s := range chess.NoSquare {
		if !q.stirred(s, q.odd) {
			continue
		}
		best := nats.LogEvidence(0)
		for _, p := range [3]game.Piece{chess.NoPiece, chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.Black, chess.Pawn)} {
			if p != q.Scene.Board[s] {
				best = max(best, b.gain(place{p, s}))
			}
		}
		sum += best
	}
	return sum
}

// Stages is what one picture says of the boards that a path of plies leads over, from that
// before the first ply to that after the last, and of an odd state.
type Stages struct {
	Boards []nats.LogEvidence
	Odd    nats.LogEvidence
}

// PathEvidence is what pictures in the order in which they were taken say of a path of plies:
// each shows one of its boards, none an earlier one than the picture before, or an odd state
// that says nothing of the path.
func PathEvidence(pictures []Stages) nats.LogEvidence {
	if len(pictures) == 0 {
		return 0
	}
	n := len(pictures[0].Boards)
	reached := make([]float64, n) // logarithm of the probability of the pictures so far, by how far the path had come
	for k := range reached {
		reached[k] = math.Inf(-1)
	}
	reached[0] = 0
	for _, p := range pictures {
		odd := math.Log(oddShare) + float64(p.Odd)
		on := make([]float64, n)
		for k := range on {
			on[k] = math.Inf(-1)
			for from := range k + 1 {
				on[k] = sumLogs(on[k], reached[from]-math.Log(float64(n-from)))
			}
			on[k] += sumLogs(math.Log(1-oddShare)+float64(p.Boards[k]), odd)
		}
		reached = on
	}
	all := math.Inf(-1)
	for _, v := range reached {
		all = sumLogs(all, v)
	}
	return nats.LogEvidence(all)
}

// sumLogs is the logarithm of the sum of two numbers of which the logarithms are given.
func sumLogs(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}
