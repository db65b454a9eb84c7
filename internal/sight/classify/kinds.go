// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/scene"
)

// Known is a piece whose kind is known, what its head says of it, and how it looks.
type Known struct {
	kind   chess.Kind
	weigh  [chess.King + 1]float64 // nats by kind
	side   chess.Color
	square chess.Square
	look   heads.Look
	isNear bool // it hardly leans, and tells less of one that does
}

// SetOf is the pieces' measures as the heads package wants them.
func SetOf(s scene.Setup) heads.Set {
	var set heads.Set
	for _, k := range chess.Kinds.All() {
		set.Height[k], set.Base[k] = s.Pieces[k].Height, s.Pieces[k].Base
	}
	return set
}

// WeighHead weighs the kinds of a piece that stands at a place by its picture; false
// when it is not in it.
func WeighHead(g *likelihood.Observation, at frame.Spot[frame.Board]) ([chess.King + 1]float64, bool) {
	c := cut(g, at)
	if c == nil {
		return [chess.King + 1]float64{}, false
	}
	return c.Weigh(), true
}

// cut is the picture of a piece's head; nil when it is not in the picture, or nobody waits.
func cut(g *likelihood.Observation, at frame.Spot[frame.Board]) *heads.Crop {
	if g.Stopped() {
		return nil
	}
	set := SetOf(g.Scene.Setup)
	c, err := set.Cut(g.Grey(), g.Scene.Plane.View, at, heads.Side, heads.Share)
	if err != nil {
		return nil
	}
	return c
}

// officer says whether a pawn can become a kind.
func officer(k chess.Kind) bool { return slices.Contains(heads.Officers[:], k) }

// KnownPieces looks at the pieces whose kinds are known and that a pawn on the last rank can
// be, but those gone: the officers that are not seen from straight above, and some pawns that
// lean most.
func KnownPieces(g *likelihood.Observation, gone []bool) []Known {
	var out []Known
	pawns := 0
	for k := len(g.Scene.Pieces) - 1; k >= 0; k-- { // the farthest first
		m := &g.Scene.Pieces[k]
		if gone != nil && gone[k] || m.Piece.Kind() == chess.King || m.Reach < upright*g.Scene.Setup.Square {
			continue
		}
		isNear := m.Reach < leaning*g.Scene.Setup.Square
		if !officer(m.Piece.Kind()) {
			if pawns++; isNear || pawns > mostPawns {
				continue
			}
		}
		if c := cut(g, m.At); c != nil {
			out = append(out, Known{m.Piece.Kind(), c.Weigh(), m.Piece.Color(), m.Square, c.Look(), isNear})
		}
	}
	return out
}

// trustIn is the share of what heads say that counts in this game: that under
// which they say best what the known pieces are. Pieces of a make that nothing was
// learnt of are seldom named rightly, and then heads say little of anyone.
func trustIn(pieces []Known) float64 {
	best, top := 1.0, math.Inf(-1)
	for _, f := range [...]float64{1, 0.7, 0.5, 0.35, 0.25, 0.15, 0} {
		sum := -unknownMakeCost * (1 - f) * (1 - f)
		for _, m := range pieces {
			if m.isNear || !officer(m.kind) {
				continue
			}
			sum += shares(&m.weigh, heads.Officers[:], f*headGain)[m.kind]
		}
		if sum > top {
			best, top = f, sum
		}
	}
	return best
}

// shares turns what a head says into the logarithms of the probabilities of
// some kinds, a share of it counted.
func shares(weigh *[chess.King + 1]float64, kinds []chess.Kind, share float64) [chess.King + 1]float64 {
	var out [chess.King + 1]float64
	top, sum := math.Inf(-1), 0.0
	for _, k := range kinds {
		out[k] = share * weigh[k]
		top = max(top, out[k])
	}
	for _, k := range kinds {
		sum += math.Exp(out[k] - top)
	}
	for _, k := range kinds {
		out[k] -= top + math.Log(sum)
	}
	return out
}
