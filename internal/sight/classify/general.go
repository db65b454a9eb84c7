// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
)

// general tells kinds by what heads look like in general, beside the pieces of the set that
// have been met: in full between kinds that have not, and less where those have more to say.
type general struct {
	among []chess.Kind
	unmet []chess.Kind // of these
	full  float64      // gain between kinds that have not been met
	met   float64      // and between all
}

// generalOf is what heads in general count beside some likeness.
func generalOf(known []Known, own likeness, among []chess.Kind) general {
	g := general{among: among, full: trustIn(known) * headGain}
	for _, k := range among {
		if !own.hasMet(k) && !slices.Contains(g.unmet, k) {
			g.unmet = append(g.unmet, k)
		}
	}
	g.met = g.full
	if len(g.unmet) < len(among) {
		g.met *= 1 - (1-metHeads)*own.share
	}
	return g
}

// weigh is the logarithms of the probabilities of the kinds.
func (g general) weigh(says *[chess.King + 1]float64) [chess.King + 1]float64 {
	out := shares(says, g.among, g.met)
	if len(g.unmet) == 0 {
		return out
	}
	sum := 0.0
	for _, k := range g.unmet {
		sum += math.Exp(out[k])
	}
	within := shares(says, g.unmet, g.full)
	for _, k := range g.unmet {
		out[k] = math.Log(sum) + within[k]
	}
	return out
}
