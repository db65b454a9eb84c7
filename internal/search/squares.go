// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// taper is a value in the middle game and in the endgame, in centipawns.
type taper struct{ mid, end int }

func (t taper) plus(o taper) taper       { return taper{t.mid + o.mid, t.end + o.end} }
func (t taper) minus(o taper) taper      { return taper{t.mid - o.mid, t.end - o.end} }
func (t taper) times(n int) taper        { return taper{t.mid * n, t.end * n} }
func (t *taper) add(o taper)             { t.mid, t.end = t.mid+o.mid, t.end+o.end }
func (t *taper) addTimes(o taper, n int) { t.mid, t.end = t.mid+o.mid*n, t.end+o.end*n }

// material is what a piece is worth. The proportions are common practice (a
// minor a little over three pawns, a rook five, a queen nine to ten), pawns and
// rooks rising, minors falling towards the endgame; no source.
var material = [7]taper{
	chess.Pawn: {85, 110}, chess.Knight: {330, 300}, chess.Bishop: {345, 320},
	chess.Rook: {480, 540}, chess.Queen: {980, 1000},
}

// placement is what a piece is worth on a square, material included, by kind and
// square seen from White; a Black piece's square is turned over with square ^ 56.
var placement = func() (t [7][64]taper) {
	for k := chess.Pawn; k <= chess.King; k++ {
		for s := range chess.Square(64) {
			t[k][s] = material[k].plus(placed(k, s))
		}
	}
	return t
}()

// inward is how far a file or rank is from the edge, 0 to 3.
func inward(i int) int { return min(i, 7-i) }

// placed derives the value of a square from a few principles: officers want
// the centre, the knight most; pawns want the centre and advance; a rook wants
// the seventh rank; the king hides in a corner of its first rank until the
// endgame and then wants the centre. The weights are our own judgement.
func placed(k chess.Kind, s chess.Square) taper {
	file, rank := inward(s.File()), s.Rank()
	centre := file + inward(rank) // 0 corner to 6
	switch k {
	case chess.Pawn:
		push := min(rank-1, 3) // the first three steps fight for the centre
		return taper{5*file*push - 4*file + 3*(rank-1), 2 * (rank - 1) * (rank - 1) / 2}
	case chess.Knight:
		return taper{9*centre - 32 + 3*min(rank, 5), 7*centre - 22}
	case chess.Bishop:
		return taper{5*centre - 14, 3*centre - 8}
	case chess.Rook:
		seventh := 0
		if rank == 6 {
			seventh = 18
		}
		return taper{3*file - 4 + seventh, seventh}
	case chess.Queen:
		return taper{2*centre - 6, 5*centre - 14}
	case chess.King:
		corner := 3 - max(file, 1) // b, g files and the edge are equally safe
		return taper{12*corner - 26*min(rank, 4) - 6, 11*centre - 34}
	}
	return taper{}
}

// Weights of the middle game in the taper: all officers at home make 24.
var phaseOf = [7]int{chess.Knight: 1, chess.Bishop: 1, chess.Rook: 2, chess.Queen: 4}

const fullPhase = 24
