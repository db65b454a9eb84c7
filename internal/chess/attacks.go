// SPDX-License-Identifier: Apache-2.0

package chess

import "slices"

// Tables of the pieces that step, and of lines between squares.
var (
	knightAttacks = stepTable([]direction{{1, 2}, {2, 1}, {2, -1}, {1, -2}, {-1, -2}, {-2, -1}, {-2, 1}, {-1, 2}})
	kingAttacks   = stepTable([]direction{{0, 1}, {1, 1}, {1, 0}, {1, -1}, {0, -1}, {-1, -1}, {-1, 0}, {-1, 1}})
	pawnAttacks   = [2][64]Bitboard{
		White: stepTable([]direction{{-1, 1}, {1, 1}}),
		Black: stepTable([]direction{{-1, -1}, {1, -1}}),
	}
	between, line = lineTables()
)

// stepTable is what a piece that steps attacks from each square.
func stepTable(dirs []direction) (t [64]Bitboard) {
	for s := range Square(64) {
		for _, d := range dirs {
			f, r := s.File()+d.file, s.Rank()+d.rank
			if f >= 0 && f < 8 && r >= 0 && r < 8 {
				t[s] |= Bit(SquareAt(f, r))
			}
		}
	}
	return t
}

// lineTables gives, for two squares on a rank, file or diagonal, the squares
// strictly between them and the whole line through both.
func lineTables() (inner, whole [64][64]Bitboard) {
	for _, d := range slices.Concat(rookDirections, bishopDirections) {
		forth, back := []direction{d}, []direction{{-d.file, -d.rank}}
		for s := range Square(64) {
			full := walk(forth, s, 0) | walk(back, s, 0) | Bit(s)
			for ray := walk(forth, s, 0); ray != 0; ray &= ray - 1 {
				to := ray.First()
				inner[s][to] = walk(forth, s, Bit(to)) &^ Bit(to)
				whole[s][to] = full
			}
		}
	}
	return inner, whole
}

// Attacks is the set of squares a piece of kind k on s attacks when pieces stand on
// occupied. For pawns, which need a side, see PawnAttacks; here it is empty.
func Attacks(k Kind, s Square, occupied Bitboard) Bitboard {
	switch k {
	case Knight:
		return knightAttacks[s&63]
	case Bishop:
		return bishopAttacks(s, occupied)
	case Rook:
		return rookAttacks(s, occupied)
	case Queen:
		return rookAttacks(s, occupied) | bishopAttacks(s, occupied)
	case King:
		return kingAttacks[s&63]
	}
	return 0
}

// PawnAttacks is the set of squares a pawn of side c on s attacks.
func PawnAttacks(c Color, s Square) Bitboard { return pawnAttacks[c&1][s&63] }

// Attackers is the set of pieces of both sides that attack s when pieces stand on
// occupied (pieces of the position outside occupied still count as attackers).
func (p *Position) Attackers(s Square, occupied Bitboard) Bitboard {
	s &= 63
	straight, slanted := p.kinds[Rook]|p.kinds[Queen], p.kinds[Bishop]|p.kinds[Queen]
	return pawnAttacks[White][s]&p.kinds[Pawn]&p.colors[Black] |
		pawnAttacks[Black][s]&p.kinds[Pawn]&p.colors[White] |
		knightAttacks[s]&p.kinds[Knight] |
		kingAttacks[s]&p.kinds[King] |
		rookAttacks(s, occupied)&straight |
		bishopAttacks(s, occupied)&slanted
}

// attacked says whether side by attacks s when pieces stand on occupied; pieces
// outside occupied do not count.
func (p *Position) attacked(s Square, by Color, occupied Bitboard) bool {
	s &= 63
	pieces := p.colors[by&1] & occupied
	if (pawnAttacks[by.Other()&1][s]&p.kinds[Pawn]|knightAttacks[s]&p.kinds[Knight]|kingAttacks[s]&p.kinds[King])&pieces != 0 {
		return true
	}
	queens := p.kinds[Queen]
	return bishopAttacks(s, occupied)&(p.kinds[Bishop]|queens)&pieces != 0 ||
		rookAttacks(s, occupied)&(p.kinds[Rook]|queens)&pieces != 0
}
