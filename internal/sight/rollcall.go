// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// rollCall looks at the heads on the squares in question when the first picture
// seems to show something else than was said. The models have never seen this
// board before: a glare on a light square looks like a light piece to them, and
// somebody has just said who stands where. If nobody stands on the bare squares
// and somebody on the others, it is as he said.
func (v *verdict) rollCall(q *inquiry) {
	same := slices.IndexFunc(v.hypotheses, func(g hypothesis) bool { return g.state == Same })
	if q.eye.last != nil || v.reading.State == Same || same < 0 {
		return
	}
	squares := v.questioned(q)
	belief := 1.0
	for _, s := range squares {
		belief *= q.attests(&v.hypotheses[0], s)
	}
	if len(squares) == 0 || belief < certain {
		return
	}
	v.hypotheses[0], v.hypotheses[same] = v.hypotheses[same], v.hypotheses[0]
	v.reading = Reading{State: Same, Belief: trust * belief}
}

// questioned lists the squares where the best hypothesis differs from what was said,
// and those where too much is left unexplained.
func (v *verdict) questioned(q *inquiry) []chess.Square {
	squares := v.reading.Squares
	least := leavesDoubt * q.eye.setup.leastFoot() * 1e6
	for _, p := range v.left {
		if p.inside > least {
			squares = merge(squares, p.squares)
		}
	}
	return squares
}

// attests is the probability, by the heads, that on a square in question stands
// nobody or somebody, as was said; 0 if a hypothesis has a piece of the other side there.
func (q *inquiry) attests(g *hypothesis, s chess.Square) float64 {
	said, seen := q.eye.board[s], g.after[s]
	places := []frame.Spot[frame.Board]{q.eye.setup.centre(s)}
	for k := range g.stood {
		if g.stood[k].square == s {
			places = append(places, g.stood[k].at)
		}
	}
	if said != chess.NoPiece {
		if seen != chess.NoPiece && seen.Color() != said.Color() {
			return 0
		}
		i := slices.IndexFunc(q.eye.pieces, func(m standing) bool { return m.square == s })
		places = []frame.Spot[frame.Board]{q.eye.pieces[i].at}
	}
	least := 1.0
	for _, at := range places {
		w, ok := q.head(at)
		if !ok {
			return 0
		}
		nobody := shares(&w, everybody[:], sure)[chess.NoKind]
		if said == chess.NoPiece {
			least = min(least, math.Exp(nobody))
		} else {
			least = min(least, 1-math.Exp(nobody))
		}
	}
	return least
}

// everybody is all that a head can be: of any kind, or none.
var everybody = [...]chess.Kind{chess.NoKind, chess.Pawn, chess.Knight, chess.Bishop, chess.Rook, chess.Queen, chess.King}
