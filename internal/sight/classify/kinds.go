// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/scene"
)

// Known is a piece whose kind is known, and what its head says of it: nats by kind.
type Known struct {
	kind  chess.Kind
	weigh [chess.King + 1]float64
}

// SetOf is the pieces' measures as the heads package wants them.
func SetOf(s scene.Setup) heads.Set {
	var set heads.Set
	for k, m := range s.Pieces {
		set.Height[k], set.Base[k] = m.Height, m.Base
	}
	return set
}

// WeighHead weighs the kinds of a piece that stands at a place by its picture; false
// when it is not in it.
func WeighHead(g *likelihood.Observation, at frame.Spot[frame.Board]) ([chess.King + 1]float64, bool) {
	if g.Stopped() {
		return [chess.King + 1]float64{}, false
	}
	set := SetOf(g.Scene.Setup)
	c, err := set.Cut(g.Grey(), g.Scene.Plane.View, at, heads.Side, heads.Share)
	if err != nil {
		return [chess.King + 1]float64{}, false
	}
	return c.Weigh(), true
}

// officer says whether a pawn can become a kind.
func officer(k chess.Kind) bool { return slices.Contains(heads.Officers[:], k) }

// KnownOfficers looks at the heads of the leaning officers whose kinds are known, but those
// gone.
func KnownOfficers(g *likelihood.Observation, gone []bool) []Known {
	var out []Known
	for k := range g.Scene.Pieces {
		m := &g.Scene.Pieces[k]
		if gone != nil && gone[k] || !officer(m.Piece.Kind()) || m.Reach < leaning*g.Scene.Setup.Square {
			continue
		}
		if w, ok := WeighHead(g, m.At); ok {
			out = append(out, Known{m.Piece.Kind(), w})
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

// PromotedAs weighs the kinds of a promoted piece by its head, in nats, by hypothesis. The
// hypotheses differ in its kind and so in where it would stand, mostly by a
// millimetre: what each place shows counts alike. A rook taken for standing nearer
// than it does looks as tall as a queen: where a place contradicts the others, any
// of them may be the right one, and the kinds are contested.
func PromotedAs(g *likelihood.Observation, met []Known, kinds []*hypothesis.Hypothesis) (nats []float64, contested bool) {
	among := make([]chess.Kind, len(kinds))
	for n, h := range kinds {
		among[n] = h.Promoted().Piece.Kind()
	}
	share := trustIn(append(KnownOfficers(g, kinds[0].Gone), met...))
	var places [][chess.King + 1]float64
	for _, h := range kinds {
		if weigh, ok := WeighHead(g, h.Promoted().At); ok {
			places = append(places, shares(&weigh, among, share*headGain))
		}
	}
	nats = make([]float64, len(kinds))
	for n, k := range among {
		for _, says := range places {
			nats[n] += says[k] / float64(len(places))
		}
	}
	likeliest := among[slices.Index(nats, slices.Max(nats))]
	return nats, slices.ContainsFunc(places, func(says [chess.King + 1]float64) bool {
		return says[likeliest] < math.Log(contradicting)
	})
}
