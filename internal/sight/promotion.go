// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"math"
	"slices"
)

// kindShare is how much of the evidence of the outlines between two kinds of piece
// on one square counts: they are generic, and sets differ from them by as much as
// a knight differs from a bishop: eight nats for the wrong one have been seen.
const kindShare = 0.3

// weighKinds takes back part of what the outlines say of the kinds of a promotion,
// or of a pawn not yet exchanged, and adds what the head says; what all of
// them have together stays.
func weighKinds(g *glance, met []known, gs []hypothesis) {
	kinds := map[chess.Move][]*hypothesis{} // by the pawn's squares
	best := math.Inf(-1)
	for i := range gs {
		best = max(best, gs[i].score)
		m := gs[i].move
		if m.Promotion() != chess.NoKind && gs[i].after[m.From()] == chess.NoPiece && gs[i].promoted() != nil {
			pawn := chess.MakeMove(m.From(), m.To(), chess.NoKind)
			kinds[pawn] = append(kinds[pawn], &gs[i])
		}
	}
	for _, k := range kinds {
		top := math.Inf(-1)
		for _, h := range k {
			top = max(top, h.score-h.prior)
		}
		if top > best-followed {
			tell(g, met, k, top)
		}
	}
}

// undecided is the least doubt, shared by all, that stays on a move with contested
// kinds: more than any answer may have.
const undecided = 0.15

// tell weighs the kinds of one promotion anew; top is the best score of any of
// them without its prior.
func tell(g *glance, met []known, kinds []*hypothesis, top float64) {
	head, contested := promotedAs(g, met, kinds)
	before, after := 0.0, 0.0
	now := make([]float64, len(kinds))
	for n, h := range kinds {
		now[n] = math.Exp(h.prior + kindShare*(h.score-h.prior-top) + head[n])
		before, after = before+math.Exp(h.score-top), after+now[n]
	}
	move := kinds[slices.Index(now, slices.Max(now))].state == Moved
	for n, h := range kinds {
		p := now[n] / after
		if contested && move {
			p = (1-undecided)*p + undecided/float64(len(kinds))
		}
		h.score = top + math.Log(before*p)
	}
}
