// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"math"
	"slices"
)

// attests is the probability, by the heads, that on a square in question stands
// nobody or somebody, as was said; 0 if a hypothesis has a piece of the other side there.
func attests(g *glance, h *hypothesis, s chess.Square) float64 {
	said, seen := g.scene.board[s], h.after[s]
	places := []frame.Spot[frame.Board]{g.scene.setup.centre(s)}
	for k := range h.stood {
		if h.stood[k].square == s {
			places = append(places, h.stood[k].at)
		}
	}
	if said != chess.NoPiece {
		if seen != chess.NoPiece && seen.Color() != said.Color() {
			return 0
		}
		i := slices.IndexFunc(g.scene.pieces, func(m standing) bool { return m.square == s })
		places = []frame.Spot[frame.Board]{g.scene.pieces[i].at}
	}
	least := 1.0
	for _, at := range places {
		w, ok := weighHead(g, at)
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
