// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
)

// general tells kinds by what heads look like in general, beside the pieces of the set that
// have been met: in full where one has not, and less between those that have.
type general struct {
	among []chess.Kind
	met   []chess.Kind // of these
	full  float64      // gain where a kind has not been met
	gain  float64      // and between those that have
}

// generalOf is what heads in general count beside some likeness.
func generalOf(known []Known, own likeness, among []chess.Kind) general {
	g := general{among: among, full: trustIn(known) * headGain}
	for _, k := range among {
		if own.hasMet(k) && !slices.Contains(g.met, k) {
			g.met = append(g.met, k)
		}
	}
	g.gain = g.full * (1 - (1-metHeads)*own.share)
	return g
}

// weigh is the logarithms of the probabilities of the kinds. Likeness says which of the kinds that
// have been met a piece is, but of one that has not it says only how little it is like those: there
// heads count in full.
func (g general) weigh(says *[chess.King + 1]float64) [chess.King + 1]float64 {
	out := shares(says, g.among, g.full)
	if len(g.met) == 0 {
		return out
	}
	sum := 0.0
	for _, k := range g.met {
		sum += math.Exp(out[k])
	}
	within := shares(says, g.met, g.gain)
	for _, k := range g.met {
		out[k] = math.Log(sum) + within[k]
	}
	return out
}
