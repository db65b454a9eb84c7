// SPDX-License-Identifier: Apache-2.0

package chess

// zobrist holds the random numbers of the position key (A. L. Zobrist, A New
// Hashing Method with Application for Game Playing, 1970; from memory).
type zobrist struct {
	pieces  [16][64]uint64 // by Piece and Square
	castle  [16]uint64     // by the set of rights
	passant [8]uint64      // by file
	black   uint64         // Black to move
}

// keySeed starts the generator of the key numbers; any value would do, but it
// must stay the same, because keys may be kept in files.
const keySeed = 0x626f61726468616e

var keys = newZobrist(keySeed)

// newZobrist draws the numbers from the seed.
func newZobrist(seed uint64) *zobrist {
	z := &zobrist{}
	for c := range Color(2) {
		for k := Pawn; k <= King; k++ {
			for s := range z.pieces[0] {
				z.pieces[MakePiece(c, k)][s] = splitMix(&seed)
			}
		}
	}
	for i := 1; i < len(z.castle); i++ {
		z.castle[i] = splitMix(&seed)
	}
	for i := range z.passant {
		z.passant[i] = splitMix(&seed)
	}
	z.black = splitMix(&seed)
	return z
}

// splitMix is the next number of the splitmix64 generator (G. Steele, D. Lea,
// C. Flood, Fast Splittable Pseudorandom Number Generators, 2014; from memory).
func splitMix(state *uint64) uint64 {
	*state += 0x9e3779b97f4a7c15
	x := *state
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
