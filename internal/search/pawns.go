// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// Masks: the files beside a file; the squares in front of a square seen from a
// side, all files; and the files a passed pawn must have free.
var (
	sides = func() (t [8]chess.Bitboard) {
		for f := range t {
			b := fileA << f
			t[f] = b&^fileA>>1 | b&^fileH<<1
		}
		return t
	}()
	front = func() (t [2][64]chess.Bitboard) {
		for s := range chess.Square(64) {
			for r := s.Rank() + 1; r < 8; r++ {
				t[chess.White][s] |= 0xff << (8 * r)
			}
			for r := range s.Rank() {
				t[chess.Black][s] |= 0xff << (8 * r)
			}
		}
		return t
	}()
)

// Weights of the pawn structure, our own judgement.
var (
	doubled   = taper{-9, -20}
	isolated  = taper{-12, -14}
	supported = taper{8, 6} // defended by a pawn
	abreast   = taper{5, 4} // a pawn beside it
	passed    = taper{2, 4} // times the square of the steps made
)

// pawns values the pawn structure of side c.
func (e *evaluation) pawns(p *chess.Position, c chess.Color) taper {
	var sum taper
	own, enemy := p.Pieces(c, chess.Pawn), p.Pieces(c.Other(), chess.Pawn)
	sum.addTimes(supported, (own & e.pawnHits[c]).Count())
	sum.addTimes(abreast, (own & (own &^ fileH << 1)).Count())
	for b := own; b != 0; b &= b - 1 {
		s := b.First()
		file, beside := fileA<<s.File(), sides[s.File()]
		ahead := front[c][s]
		if own&file&ahead != 0 {
			sum.add(doubled)
		}
		if own&beside == 0 {
			sum.add(isolated)
		}
		if enemy&(file|beside)&ahead == 0 && own&file&ahead == 0 {
			sum.add(passedPawn(p, s, c))
		}
	}
	return sum
}

// passedPawn values a passed pawn: more the farther it is, the nearer its own
// and the farther the enemy's king to the square before it; half if blocked.
func passedPawn(p *chess.Position, s chess.Square, c chess.Color) taper {
	steps := relativeRank(s, c) - 1
	v := passed.times(steps * steps)
	stop := s + 8
	if c == chess.Black {
		stop = s - 8
	}
	v.end += steps * (4*distance(p.KingSquare(c.Other()), stop) - 2*distance(p.KingSquare(c), stop))
	if p.Occupied().Has(stop) {
		v.mid, v.end = v.mid/2, v.end/2
	}
	return v
}

// distance is the number of king's moves between two squares.
func distance(a, b chess.Square) int {
	return max(abs(a.File()-b.File()), abs(a.Rank()-b.Rank()))
}

func abs(i int) int { return max(i, -i) }

// shelter values the pawns before the king of side c, while it is at home.
func (e *evaluation) shelter(p *chess.Position, c chess.Color) taper {
	king := p.KingSquare(c)
	if relativeRank(king, c) > 1 || p.Pieces(c.Other(), chess.Queen)|p.Pieces(c.Other(), chess.Rook) == 0 {
		return taper{}
	}
	own, v := p.Pieces(c, chess.Pawn), 0
	for f := max(king.File()-1, 0); f <= min(king.File()+1, 7); f++ {
		ahead := own & (fileA << f) & front[c][king]
		nearest := ahead.First()
		if c == chess.Black && ahead != 0 {
			nearest = last(ahead)
		}
		switch {
		case ahead == 0:
			v += bareFile
		case abs(nearest.Rank()-king.Rank()) == 1:
			v += nearShield
		case abs(nearest.Rank()-king.Rank()) == 2:
			v += farShield
		}
	}
	return taper{mid: v}
}
