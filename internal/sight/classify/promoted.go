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

// Promotion is what a picture says of the kinds that a pawn can have become.
type Promotion struct {
	Nats      []float64 // by hypothesis, by how the piece looks
	Outlines  float64   // share of what the outlines say that counts beside it
	Contested bool      // any of the kinds may be right
}

// glance is what one place says of the kinds of the piece that would stand there.
type glance struct {
	weight float64                 // of the place among all, together 1
	heads  [chess.King + 1]float64 // logarithm of the probability by heads in general
	own    [chess.King + 1]float64 // nats by the pieces of this set
	all    [chess.King + 1]float64 // logarithm of the probability by both
}

// PromotedAs weighs the kinds of a promoted piece by how it looks: by the pieces of this set
// that have been met first, by what heads look like in general second; on is where it stands. The hypotheses differ
// in its kind and so in where it would stand, mostly by a millimetre; each place counts as
// the outline fits there, and as anything fits there that has been met. A rook taken for
// standing nearer than it does looks as tall as a queen: where a place contradicts the others –
// one that counts, if the kinds have been met –, any of them may be the right one, and the
// kinds are contested.
func PromotedAs(g *likelihood.Observation, met []Known, kinds []*hypothesis.Hypothesis, on chess.Square) Promotion {
	among := make([]chess.Kind, len(kinds))
	for n, h := range kinds {
		among[n] = h.Arrived(on).Piece.Kind()
	}
	known := append(KnownPieces(g, kinds[0].Gone), met...)
	own := likenessOf(known)
	covered := own.share * own.covers(among)
	out := Promotion{Nats: make([]float64, len(kinds)), Outlines: kindShare - (kindShare-metShare)*covered}
	general := generalOf(known, own, among)
	var places []glance
	for n, w := range fits(kinds, out.Outlines) {
		if c := cut(g, kinds[n].Arrived(on).At); c != nil {
			p := glance{weight: w}
			says := c.Weigh()
			p.heads = general.weigh(&says)
			p.own = own.says(c.Look(), kinds[n].Arrived(on).Piece.Color())
			for k := range says {
				says[k] = p.heads[k] + p.own[k]
			}
			p.all = shares(&says, among, 1)
			places = append(places, p)
		}
	}
	for n, k := range among {
		out.Nats[n] = together(places, k)
	}
	if len(places) > 0 {
		out.Contested = against(places, among, among[slices.Index(out.Nats, slices.Max(out.Nats))]) > contradicting*covered
	}
	return out
}

// together is what all places say of a kind: the mean by heads, and by the pieces met as if
// the piece stood at any of them.
func together(places []glance, k chess.Kind) float64 {
	heads, own, sum := 0.0, 0.0, 0.0
	for i := range places {
		p := &places[i]
		heads += p.weight * p.heads[k]
		own += p.weight * math.Exp(p.own[k])
		sum += p.weight
	}
	if sum == 0 {
		return 0
	}
	return heads/sum + math.Log(own/sum)
}

// against is the share of the places that contradict a kind, each as what has been met fits
// there.
func against(places []glance, among []chess.Kind, kind chess.Kind) float64 {
	not, sum := 0.0, 0.0
	for i := range places {
		p := &places[i]
		fit := 0.0
		for _, k := range among {
			fit += math.Exp(p.own[k])
		}
		if p.all[kind] < math.Log(contradicting) {
			not += p.weight * fit
		}
		sum += p.weight * fit
	}
	return not / sum
}

// fits is how far the place of each hypothesis is to be believed, by how well the outline
// fits there: together 1.
func fits(kinds []*hypothesis.Hypothesis, share float64) []float64 {
	out := make([]float64, len(kinds))
	top, sum := nats.Impossible[nats.LogEvidence](), 0.0
	for _, h := range kinds {
		top = max(top, h.Posterior.Without(h.Prior))
	}
	for n, h := range kinds {
		out[n] = math.Exp(share * float64(h.Posterior.Without(h.Prior)-top))
		sum += out[n]
	}
	for n := range out {
		out[n] /= sum
	}
	return out
}
