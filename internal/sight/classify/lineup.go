// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/scene"
)

// Lineup is how the pieces of one picture look beside each other. Most kinds stand on a board
// several times: whether each piece is of the kind that was said is told from the others of its
// own set first, and from heads in general second.
type Lineup struct {
	pieces []Known
	heads  float64 // what heads in general count, by how they name these pieces
}

// LineUp looks at the pieces of a picture where they stand, but at those that are seen from
// straight above.
func LineUp(g *likelihood.Observation, placed []scene.Placement) Lineup {
	var l Lineup
	for i := range placed {
		m := &placed[i]
		if m.Reach < upright*g.Scene.Setup.Square {
			continue
		}
		if c := cut(g, m.At); c != nil {
			isNear := m.Reach < leaning*g.Scene.Setup.Square
			l.pieces = append(l.pieces, Known{m.Piece.Kind(), c.Weigh(), m.Piece.Color(), m.Square, c.Look(), isNear})
		}
	}
	l.heads = trustIn(l.pieces) * headGain
	return l
}

// Resembles is the probability that what stands at a place, if anybody does, is a piece of this
// set, by how much it looks like any of them; false where that cannot be seen.
func (l Lineup) Resembles(g *likelihood.Observation, at frame.Spot[frame.Board]) (float64, bool) {
	c := cut(g, at)
	if c == nil {
		return 0, false
	}
	return l.resembles(c.Look()), true
}

// resembles is the same of a look.
func (l Lineup) resembles(look heads.Look) float64 {
	set := likeness{known: l.pieces}
	set.unmet = set.strange()
	best := math.Inf(-1)
	for _, side := range [2]chess.Color{chess.White, chess.Black} {
		says, met := set.weigh(look, side, chess.NoSquare)
		for k := range says {
			if met[k] {
				best = max(best, says[k])
			}
		}
	}
	return 1 / (1 + math.Exp(likeGain*(set.unmet-best)))
}

// Exchange is two pieces of one side that stand in each other's places.
type Exchange struct {
	Squares [2]chess.Square
	Belief  float64
}

// Exchanged is the two pieces of one side that look most as if they stood in each other's
// places; the belief is 0 where there are none to compare.
func (l Lineup) Exchanged() Exchange {
	var best Exchange
	for i := range l.pieces {
		for j := range i {
			a, b := &l.pieces[j], &l.pieces[i]
			if a.kind == b.kind || a.side != b.side {
				continue
			}
			n, ok := l.swap(a, b)
			if p := 1 / (1 + math.Exp(unlikelyExchange-n)); ok && p > best.Belief {
				best = Exchange{Squares: [2]chess.Square{a.square, b.square}, Belief: p}
			}
		}
	}
	return best
}

// swap is by how many nats two pieces look more like each other's kind than like their own,
// compared with all others; false where one of the kinds has no others.
func (l Lineup) swap(a, b *Known) (float64, bool) {
	others := likeness{unmet: heads.Unmet()}
	for _, m := range l.pieces {
		if m.square != a.square && m.square != b.square {
			others.known = append(others.known, m)
		}
	}
	if !others.hasMet(a.kind) || !others.hasMet(b.kind) {
		return 0, false
	}
	sum := 0.0
	for _, m := range [2]*Known{a, b} {
		other := a.kind + b.kind - m.kind
		says, _ := others.weigh(m.look, m.side, m.square)
		sum += likeGain*(says[other]-says[m.kind]) + l.heads*(m.weigh[other]-m.weigh[m.kind])
	}
	return sum, true
}
