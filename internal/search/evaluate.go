// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// evaluate is the worth of the position in centipawns for the side to move,
// without looking ahead. It is the same for the position with colours changed.
func evaluate(p *chess.Position) int {
	if v, ok := hunt(p); ok {
		return v
	}
	var e evaluation
	e.survey(p)
	white, black := e.pieces(p, chess.White), e.pieces(p, chess.Black)
	white.add(e.structure(p, chess.White))
	black.add(e.structure(p, chess.Black))
	score := white.minus(black)
	phase := min(e.phase, fullPhase)
	v := (score.mid*phase + score.end*(fullPhase-phase)) / fullPhase
	v = scale(p, v)
	if p.SideToMove() == chess.Black {
		v = -v
	}
	return v + tempo
}

// structure values the pawns of side c and its king's safety, once the pieces of
// both sides are counted.
func (e *evaluation) structure(p *chess.Position, c chess.Color) taper {
	v := e.pawns(p, c).plus(e.shelter(p, c))
	v.mid -= e.danger(p, c)
	return v
}

// evaluation collects what several terms need, by side.
type evaluation struct {
	phase    int
	pawnHits [2]chess.Bitboard // squares attacked by pawns
	zone     [2]chess.Bitboard // king and the squares round it
	blows    [2]int            // weighted hits by the enemy on the zone
	hitters  [2]int            // enemy officers that hit it
}

const (
	fileA chess.Bitboard = 0x0101010101010101
	fileH                = fileA << 7
)

func (e *evaluation) survey(p *chess.Position) {
	white, black := p.Pieces(chess.White, chess.Pawn), p.Pieces(chess.Black, chess.Pawn)
	e.pawnHits[chess.White] = white&^fileA<<7 | white&^fileH<<9
	e.pawnHits[chess.Black] = black&^fileA>>9 | black&^fileH>>7
	for c := range chess.Color(2) {
		k := p.KingSquare(c)
		e.zone[c] = chess.Attacks(chess.King, k, 0) | chess.Bit(k)
	}
}

// mobility is the worth of a square to go to, and how many squares are normal.
var mobility = [7]struct {
	each   taper
	normal int
}{
	chess.Knight: {taper{5, 4}, 4}, chess.Bishop: {taper{5, 5}, 6},
	chess.Rook: {taper{3, 5}, 7}, chess.Queen: {taper{1, 3}, 13},
}

// blow is the weight of an officer's hit on a square by the king.
var blow = [7]int{chess.Knight: 3, chess.Bishop: 3, chess.Rook: 4, chess.Queen: 6}

// pieces values the pieces of one side on their squares, with what they can reach.
func (e *evaluation) pieces(p *chess.Position, c chess.Color) taper {
	var sum taper
	turn := chess.Square(56 * c)
	own, occupied, enemy := p.ByColor(c), p.Occupied(), c.Other()
	safe := ^(e.pawnHits[enemy] | own&p.ByKind(chess.Pawn) | own&p.ByKind(chess.King))
	for k := chess.Pawn; k <= chess.King; k++ {
		for b := p.Pieces(c, k); b != 0; b &= b - 1 {
			s := b.First()
			sum.add(placement[k][s^turn])
			if k == chess.Pawn || k == chess.King {
				continue
			}
			e.phase += phaseOf[k]
			reach := chess.Attacks(k, s, occupied)
			sum.addTimes(mobility[k].each, (reach&safe).Count()-mobility[k].normal)
			if hits := (reach & e.zone[enemy]).Count(); hits > 0 {
				e.hitters[enemy]++
				e.blows[enemy] += hits * blow[k]
			}
		}
	}
	sum.add(e.officers(p, c))
	return sum
}

// Worth of a pair of bishops, and of a rook on a file without own pawns or
// without any.
var (
	bishopPair = taper{30, 45}
	halfOpen   = taper{12, 8}
	openFile   = taper{26, 14}
	outpost    = taper{18, 10}
)

// officers values what depends on the pawns or on other officers.
func (e *evaluation) officers(p *chess.Position, c chess.Color) taper {
	var sum taper
	if p.Pieces(c, chess.Bishop).Count() > 1 {
		sum.add(bishopPair)
	}
	own, all := p.Pieces(c, chess.Pawn), p.ByKind(chess.Pawn)
	for b := p.Pieces(c, chess.Rook); b != 0; b &= b - 1 {
		switch file := fileA << b.First().File(); {
		case all&file == 0:
			sum.add(openFile)
		case own&file == 0:
			sum.add(halfOpen)
		}
	}
	enemyPawns := p.Pieces(c.Other(), chess.Pawn)
	for b := p.Pieces(c, chess.Knight) & e.pawnHits[c]; b != 0; b &= b - 1 {
		if s := b.First(); relativeRank(s, c) >= 3 && sides[s.File()]&front[c][s]&enemyPawns == 0 {
			sum.add(outpost)
		}
	}
	return sum
}

// relativeRank is the rank seen from side c, 0 to 7.
func relativeRank(s chess.Square, c chess.Color) int { return (s ^ chess.Square(56*c)).Rank() }

// danger is what the enemy's officers round the king of side c take away: it
// grows with the square of their blows, and one officer alone is no attack.
func (e *evaluation) danger(p *chess.Position, c chess.Color) int {
	if e.hitters[c] < 2 {
		return 0
	}
	v := e.blows[c] * e.blows[c] * min(e.hitters[c], 4) / 30
	if p.Pieces(c.Other(), chess.Queen) == 0 {
		v /= 3
	}
	return min(v, 500)
}
