// SPDX-License-Identifier: Apache-2.0

package sizes

import (
	"boardhand/internal/chess"
	"boardhand/internal/game"
)

// proportions are usual heights and bases, as shares of the king's (from memory of turned sets:
// sets differ from them by a tenth or so).
var proportions = game.ByKind[struct{ height, base float64 }]{
	chess.Pawn: {0.5, 0.82}, chess.Knight: {0.68, 0.92}, chess.Bishop: {0.78, 0.9},
	chess.Rook: {0.58, 0.92}, chess.Queen: {0.9, 0.97}, chess.King: {1, 1},
}

// What is tried: bases and heights of a king in squares – common boards have bases of 0.4 to
// 0.65 and kings of 1.1 to 2 squares – and then factors on the height of each kind.
var (
	bases         = [...]float64{0.4, 0.46, 0.53, 0.61}
	heights       = [...]float64{1.1, 1.3, 1.5, 1.75, 2.05}
	heightFactors = [...]float64{0.82, 0.91, 1.1, 1.22}
)

// baseFactors are tried on bases that were told.
var baseFactors = [...]float64{0.65, 0.8, 1.25, 1.55, 1.9}

// baseDoubt is by how many nats other bases than the told must explain a picture better. On 14
// boards of the twin with the told bases others led by at most 44, on 23 with bases almost
// twice as wide by 780 and more.
const baseDoubt = 150.0

// Where the search begins.
const middleBase, middleHeight = 0.5, 1.5

// rounds of learning the sides' colours and searching: the colours learnt under the first
// measures hold pixels of the ground.
const rounds = 2

// ownHeight and ownBase are how far kinds are off beyond what the grid tells, as shares: in the first
// pictures of 19 rooms heights were off by 0.13 in the median and bases by 0.04, the camera's
// height, which was not known either, having its part in it.
const ownHeight, ownBase = 0.18, 0.05
