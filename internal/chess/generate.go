// SPDX-License-Identifier: Apache-2.0

package chess

// situation is what the generator needs to know about a position once.
type situation struct {
	us, them Color
	own      Bitboard
	occupied Bitboard
	king     Square
	checkers Bitboard
	pinned   Bitboard
	allowed  Bitboard // squares wanted: all but own, or the enemy's
	block    Bitboard // squares that answer a check: all if there is none
	noisy    bool
}

// everywhere is the set of all squares.
const everywhere = ^Bitboard(0)

// LegalMoves appends all legal moves to dst. The order is fixed, but otherwise
// means nothing.
func (p *Position) LegalMoves(dst []Move) []Move { return p.generate(dst, false) }

// NoisyMoves appends the legal moves that take a piece or promote a pawn.
func (p *Position) NoisyMoves(dst []Move) []Move { return p.generate(dst, true) }

// Legal says whether m is legal.
func (p *Position) Legal(m Move) bool {
	var buf [256]Move
	for _, l := range p.LegalMoves(buf[:0]) {
		if l == m {
			return true
		}
	}
	return false
}

// generate makes legal moves only: pinned pieces stay on their line and, in
// check, pieces move to the squares that answer it.
func (p *Position) generate(dst []Move, noisy bool) []Move {
	var t situation
	p.survey(&t, noisy)
	dst = p.kingMoves(dst, &t)
	if t.checkers.several() {
		return dst
	}
	dst = p.pawnMoves(dst, &t, p.kinds[Pawn]&t.own&^t.pinned, t.block)
	for pawns := p.kinds[Pawn] & t.own & t.pinned; pawns != 0; pawns &= pawns - 1 {
		s := pawns.First()
		dst = p.pawnMoves(dst, &t, Bit(s), t.block&line[t.king][s&63])
	}
	if p.takeable != NoSquare {
		dst = p.passantMoves(dst)
	}
	dst = p.officerMoves(dst, &t)
	if t.checkers == 0 && p.castle != 0 && !noisy {
		dst = p.castlingMoves(dst, &t)
	}
	return dst
}

// survey fills in the situation.
func (p *Position) survey(t *situation, noisy bool) {
	t.us, t.them = p.side&1, p.side.Other()&1
	t.own, t.occupied = p.colors[t.us], p.Occupied()
	t.king = (p.kinds[King] & t.own).First() & 63
	t.checkers = p.Attackers(t.king, t.occupied) & p.colors[t.them]
	t.allowed, t.block, t.noisy = ^t.own, everywhere, noisy
	if noisy {
		t.allowed = p.colors[t.them]
	}
	if t.checkers != 0 {
		t.block = t.checkers | between[t.king][t.checkers.First()&63]
	}
	enemy := p.colors[t.them]
	queens := p.kinds[Queen]
	aiming := rookAttacks(t.king, enemy)&(p.kinds[Rook]|queens) | bishopAttacks(t.king, enemy)&(p.kinds[Bishop]|queens)
	for aiming &= enemy; aiming != 0; aiming &= aiming - 1 {
		shield := between[t.king][aiming.First()&63] & t.own
		if shield != 0 && !shield.several() {
			t.pinned |= shield
		}
	}
}

// addMoves appends the moves of one piece to a set of squares.
func addMoves(dst []Move, from Square, targets Bitboard) []Move {
	for ; targets != 0; targets &= targets - 1 {
		dst = append(dst, Move(from)|Move(targets.First())<<6)
	}
	return dst
}

// kingMoves appends the king's steps to squares not attacked; the king itself
// does not shield them.
func (p *Position) kingMoves(dst []Move, t *situation) []Move {
	without := t.occupied &^ Bit(t.king)
	for targets := kingAttacks[t.king] & t.allowed; targets != 0; targets &= targets - 1 {
		s := targets.First()
		if !p.attacked(s, t.them, without|Bit(s)) {
			dst = append(dst, Move(t.king)|Move(s)<<6)
		}
	}
	return dst
}

// officerMoves appends the moves of knights, bishops, rooks and queens.
func (p *Position) officerMoves(dst []Move, t *situation) []Move {
	wanted := t.allowed & t.block
	for pieces := p.kinds[Knight] & t.own &^ t.pinned; pieces != 0; pieces &= pieces - 1 {
		s := pieces.First() & 63
		dst = addMoves(dst, s, knightAttacks[s]&wanted)
	}
	for pieces := (p.kinds[Bishop] | p.kinds[Queen]) & t.own; pieces != 0; pieces &= pieces - 1 {
		s := pieces.First() & 63
		targets := bishopAttacks(s, t.occupied) & wanted
		if t.pinned.Has(s) {
			targets &= line[t.king][s]
		}
		dst = addMoves(dst, s, targets)
	}
	for pieces := (p.kinds[Rook] | p.kinds[Queen]) & t.own; pieces != 0; pieces &= pieces - 1 {
		s := pieces.First() & 63
		targets := rookAttacks(s, t.occupied) & wanted
		if t.pinned.Has(s) {
			targets &= line[t.king][s]
		}
		dst = addMoves(dst, s, targets)
	}
	return dst
}

// pawnMoves appends the pushes and captures of a set of pawns to squares of
// mask; taking en passant is done elsewhere.
func (p *Position) pawnMoves(dst []Move, t *situation, pawns, mask Bitboard) []Move {
	empty := ^t.occupied
	enemy := p.colors[t.them] & mask
	var one, two, left, right Bitboard
	var d int8 // what one push adds to the square
	if t.us == White {
		d = 8
		one = pawns << 8 & empty
		two = one & rank3 << 8 & empty & mask
		left, right = pawns&^fileA<<7&enemy, pawns&^fileH<<9&enemy
	} else {
		d = -8
		one = pawns >> 8 & empty
		two = one & rank6 >> 8 & empty & mask
		left, right = pawns&^fileA>>9&enemy, pawns&^fileH>>7&enemy
	}
	one &= mask
	if t.noisy {
		one, two = one&(rank1|rank8), 0
	}
	dst = addPawns(dst, one, d)
	for ; two != 0; two &= two - 1 {
		to := two.First()
		dst = append(dst, Move(to-Square(2*d))|Move(to)<<6)
	}
	dst = addPawns(dst, left, d-1)
	return addPawns(dst, right, d+1)
}

// addPawns appends the moves of pawns that reach targets by adding d to their
// square, four each on the last rank.
func addPawns(dst []Move, targets Bitboard, d int8) []Move {
	for last := targets & (rank1 | rank8); last != 0; last &= last - 1 {
		to := last.First()
		m := Move(to-Square(d)) | Move(to)<<6
		dst = append(dst, m|Move(Queen)<<12, m|Move(Knight)<<12, m|Move(Rook)<<12, m|Move(Bishop)<<12)
	}
	for targets &^= rank1 | rank8; targets != 0; targets &= targets - 1 {
		to := targets.First()
		dst = append(dst, Move(to-Square(d))|Move(to)<<6)
	}
	return dst
}

// passantMoves appends the legal en passant captures.
func (p *Position) passantMoves(dst []Move) []Move {
	for pawns := p.passantTakers(); pawns != 0; pawns &= pawns - 1 {
		if s := pawns.First(); p.passantLegal(s) {
			dst = append(dst, MakeMove(s, p.takeable, NoKind))
		}
	}
	return dst
}

// castlingMoves appends castling: nothing between king and rook, and the
// king's way not attacked. The king is known not to be in check.
func (p *Position) castlingMoves(dst []Move, t *situation) []Move {
	short, long := whiteShort<<(2*t.us), whiteLong<<(2*t.us)
	k := t.king
	if p.castle&short != 0 && t.occupied&(3<<(k+1)) == 0 &&
		!p.attacked(k+1, t.them, t.occupied) && !p.attacked(k+2, t.them, t.occupied) {
		dst = append(dst, MakeMove(k, k+2, NoKind))
	}
	if p.castle&long != 0 && t.occupied&(7<<(k-3)) == 0 &&
		!p.attacked(k-1, t.them, t.occupied) && !p.attacked(k-2, t.them, t.occupied) {
		dst = append(dst, MakeMove(k, k-2, NoKind))
	}
	return dst
}

// Perft counts the leaves of the tree of legal moves of the given depth. The
// last ply is counted by the length of its move list, without making the moves.
func (p *Position) Perft(depth int) uint64 {
	if depth <= 0 {
		return 1
	}
	var buf [256]Move
	moves := p.LegalMoves(buf[:0])
	if depth == 1 {
		return uint64(len(moves))
	}
	var n uint64
	for _, m := range moves {
		u := p.Make(m)
		n += p.Perft(depth - 1)
		p.Unmake(m, u)
	}
	return n
}
