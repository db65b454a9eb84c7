// SPDX-License-Identifier: Apache-2.0

package chess

// Dead says that neither side can mate by any series of legal moves (FIDE
// 5.2.2). It never says so wrongly, but positions that are dead in deeper ways
// may be missed. It knows: king against king; one knight more; any number of
// bishops all on squares of one colour; kings and pawns with every pawn blocked
// by a pawn, nothing to take, and no way for a king to an undefended pawn.
func (p *Position) Dead() bool {
	if p.kinds[Rook]|p.kinds[Queen] != 0 {
		return false
	}
	knights, bishops := p.kinds[Knight], p.kinds[Bishop]
	switch {
	case p.kinds[Pawn] != 0:
		return knights|bishops == 0 && p.walledIn()
	case knights == 0:
		return bishops&lightSquares == 0 || bishops&darkSquares == 0
	}
	return bishops == 0 && !knights.several()
}

// walledIn says, for kings and pawns alone, that no pawn can ever move, take or
// be taken, whatever the kings do. Then no check is ever given again.
func (p *Position) walledIn() bool {
	pawns := p.kinds[Pawn]
	ahead := p.Pieces(White, Pawn)<<8 | p.Pieces(Black, Pawn)>>8
	if ahead&^pawns != 0 || p.takeable != NoSquare || p.InCheck() {
		return false
	}
	for c := range Color(2) {
		if p.pawnsAttack(c)&p.Pieces(c.Other(), Pawn) != 0 || p.kingTakes(c) {
			return false
		}
	}
	return true
}

// pawnsAttack is what the pawns of side c attack.
func (p *Position) pawnsAttack(c Color) Bitboard {
	pawns := p.Pieces(c, Pawn)
	if c == White {
		return pawns&^fileA<<7 | pawns&^fileH<<9
	}
	return pawns&^fileA>>9 | pawns&^fileH>>7
}

// kingTakes says whether the king of side c could walk to an enemy pawn that no
// pawn defends, with the pawns standing still and the other king out of the way.
func (p *Position) kingTakes(c Color) bool {
	forbidden := p.pawnsAttack(c.Other()) | p.Pieces(c, Pawn)
	reach := p.Pieces(c, King)
	for grown := reach; ; reach = grown {
		for b := reach; b != 0; b &= b - 1 {
			grown |= kingAttacks[b.First()&63] &^ forbidden
		}
		if grown == reach {
			return reach&p.Pieces(c.Other(), Pawn) != 0
		}
	}
}
