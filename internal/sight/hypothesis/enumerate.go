// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Enumerate lists no change, every legal move and every half-done one; expected
// is the move under way, zero when that is not known.
func Enumerate(pos *chess.Position, expected chess.Move) []Hypothesis {
	start := scene.OccupancyOf(pos)
	seen := map[scene.Occupancy]bool{start: true}
	out := []Hypothesis{{State: Same, After: start, Prior: nats.Probability(priorSame).Log()}}
	legal := pos.LegalMoves(nil)
	for _, m := range legal {
		next := pos.After(m)
		g := Hypothesis{State: Moved, Move: m, After: scene.OccupancyOf(&next), Prior: nats.Probability(priorMoves/float64(len(legal))).Log() + promotes(m, expected)}
		seen[g.After] = true
		out = append(out, g)
	}
	first := len(out)
	for _, m := range legal {
		for _, a := range halfDone(pos, m) {
			if !seen[a] {
				seen[a] = true
				out = append(out, Hypothesis{State: Partial, Move: m, After: a})
			}
		}
	}
	for i := first; i < len(out); i++ {
		out[i].Prior = nats.Probability((1 - priorSame - priorMoves - 64*PriorStray) / float64(len(out)-first)).Log()
	}
	return out
}
