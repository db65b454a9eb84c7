// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"math/rand/v2"

	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// piece is how one piece of a build deviates: metres and shares, by tolerance.
type piece struct {
	kind       game.Kind
	hasMagnet  bool
	deviations [budget.Count]float64
}

// build is one machine with its pieces: what is the same for all pieces, and each piece.
type build struct {
	machine [budget.Count]float64
	pieces  []piece
}

// population lists the pieces of both sides.
func population(r *rig.Rig) (out []piece) {
	kinds := r.Pieces.Kinds()
	for _, side := range []string{"white", "black"} {
		for _, k := range kinds.All() {
			for range coupling.Count(r, k) {
				out = append(out, piece{kind: k, hasMagnet: r.Pieces.Carries(side)})
			}
		}
	}
	return out
}

// draw fills the build by chance.
func (b *build) draw(of *budget.Budget, chance *rand.Rand) {
	for k := range of {
		if !of[k].IsPiece {
			b.machine[k] = of[k].Draw(chance)
		}
	}
	for i := range b.pieces {
		for k := range of {
			if of[k].IsPiece {
				b.pieces[i].deviations[k] = of[k].Draw(chance)
			}
		}
	}
}

// set gives one tolerance a deviation, that of a piece to all of them.
func (b *build) set(of *budget.Budget, k int, to float64) {
	if !of[k].IsPiece {
		b.machine[k] = to
		return
	}
	for i := range b.pieces {
		b.pieces[i].deviations[k] = to
	}
}
