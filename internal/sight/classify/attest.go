// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/scene"
)

// Attests is the probability, by the heads, that on a square in question stands
// nobody or somebody, as was said; 0 if a hypothesis has a piece of the other side there.
func Attests(g *likelihood.Observation, h *hypothesis.Hypothesis, s chess.Square) float64 {
	said, seen := g.Scene.Board[s], h.After[s]
	places := []frame.Spot[frame.Board]{g.Scene.Setup.Centre(s)}
	for k := range h.Stood {
		if h.Stood[k].Square == s {
			places = append(places, h.Stood[k].At)
		}
	}
	if said != chess.NoPiece {
		if seen != chess.NoPiece && seen.Color() != said.Color() {
			return 0
		}
		i := slices.IndexFunc(g.Scene.Pieces, func(m scene.Placement) bool { return m.Square == s })
		places = []frame.Spot[frame.Board]{g.Scene.Pieces[i].At}
	}
	least := 1.0
	for _, at := range places {
		w, ok := WeighHead(g, at)
		if !ok {
			return 0
		}
		nobody := shares(&w, everybody[:], headGain)[chess.NoKind]
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
