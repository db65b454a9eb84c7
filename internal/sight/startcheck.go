// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/scene"
)

// checkStart looks at the heads on the squares in question when the first picture
// seems to show something else than was said. The models have never seen this
// board before: a glare on a light square looks like a light piece to them, and
// somebody has just said who stands where. If nobody stands on the bare squares
// and somebody on the others, it is as was said. Several plies are looked for after the heads
// have failed to attest that.
func (v *decision) checkStart() {
	q := v.search
	same := slices.IndexFunc(v.hypotheses, func(g hypothesis.Hypothesis) bool { return g.State == Same })
	if q.Model.Phase() == background.Following || v.reading.State == Same || v.hypotheses[0].State == Several || same < 0 {
		return
	}
	squares := v.questioned()
	belief := 1.0
	for _, s := range squares {
		belief *= classify.Attests(q.Observation, &v.hypotheses[0], s)
	}
	if len(squares) == 0 || belief < certain {
		return
	}
	v.hypotheses[0], v.hypotheses[same] = v.hypotheses[same], v.hypotheses[0]
	v.reading = Reading{State: Same, Belief: trust * belief}
}

// questioned lists the squares where the best hypothesis differs from what was said,
// and those where too much is left unexplained.
func (v *decision) questioned() []chess.Square {
	squares := v.reading.Squares
	least := inference.LeavesDoubt * v.observation.Scene.Setup.LeastBase() * 1e6
	for _, p := range v.residuals {
		if p.Inside > least {
			squares = scene.Merge(squares, p.Squares)
		}
	}
	return squares
}
