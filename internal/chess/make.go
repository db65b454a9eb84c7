// SPDX-License-Identifier: Apache-2.0

package chess

// Undo holds what Unmake needs to take a move back.
type Undo struct {
	key               uint64
	half              uint16
	captured          Piece
	castle            rights
	passant, takeable Square
}

// lostRights are the castling rights lost when a piece leaves or reaches a square.
var lostRights = [64]rights{
	0: whiteLong, 4: whiteShort | whiteLong, 7: whiteShort,
	56: blackLong, 60: blackShort | blackLong, 63: blackShort,
}

// Make plays a legal move and returns what Unmake needs. What an illegal move
// does is not defined; ask Legal first.
func (p *Position) Make(m Move) Undo {
	from, to, us := m.From(), m.To(), p.side
	piece := p.board[from]
	u := Undo{p.key, p.half, p.board[to], p.castle, p.passant, p.takeable}
	key := p.key ^ keys.black ^ keys.castle[p.castle]
	if p.takeable != NoSquare {
		key ^= keys.passant[p.takeable&7]
	}
	p.half++
	p.passant, p.takeable = NoSquare, NoSquare
	if u.captured != NoPiece {
		p.lift(u.captured, to)
		key ^= keys.pieces[u.captured&15][to]
		p.half = 0
	}
	p.lift(piece, from)
	placed := piece
	if k := m.Promotion(); k != NoKind {
		placed = MakePiece(us, k)
	}
	p.put(placed, to)
	key ^= keys.pieces[piece&15][from] ^ keys.pieces[placed&15][to]
	p.castle &^= lostRights[from] | lostRights[to]
	p.key = key ^ keys.castle[p.castle&15]
	p.side = us.Other()
	p.full += uint16(us)
	switch piece.Kind() {
	case Pawn:
		p.half = 0
		p.finishPawn(m, &u)
	case King:
		if from-to == 2 || to-from == 2 {
			p.moveRook(m, true)
		}
	}
	return u
}

// finishPawn does what is special about a pawn's move: taking en passant, and
// the square crossed by a move of two squares.
func (p *Position) finishPawn(m Move, u *Undo) {
	from, to := m.From(), m.To()
	switch {
	case to == u.takeable:
		s := to ^ 8
		u.captured = p.board[s]
		p.lift(u.captured, s)
		p.key ^= keys.pieces[u.captured&15][s]
	case from^to == 16:
		p.passant = (from + to) / 2
		p.findTakeable()
		if p.takeable != NoSquare {
			p.key ^= keys.passant[p.takeable&7]
		}
	}
}

// findTakeable sets takeable: the passant square if a pawn may really take there.
func (p *Position) findTakeable() {
	p.takeable = NoSquare
	if p.passant == NoSquare {
		return
	}
	for pawns := p.passantTakers(); pawns != 0; pawns &= pawns - 1 {
		if p.passantLegal(pawns.First()) {
			p.takeable = p.passant
			return
		}
	}
}

// passantTakers are the pawns of the side to move that attack the passant square.
func (p *Position) passantTakers() Bitboard {
	return pawnAttacks[p.side.Other()&1][p.passant&63] & p.kinds[Pawn] & p.colors[p.side&1]
}

// passantLegal says whether the pawn on from may take en passant without
// leaving its own king in check: two pieces leave the rank at once.
func (p *Position) passantLegal(from Square) bool {
	after := p.Occupied()&^Bit(from)&^Bit(p.passant^8) | Bit(p.passant)
	return !p.attacked(p.KingSquare(p.side), p.side.Other(), after)
}

// RookMove is the rook's part of a castling move: from where to where.
func (p *Position) RookMove(m Move) (from, to Square) {
	rank := m.To() &^ 7
	if m.To()&7 == 6 {
		return rank | 7, rank | 5
	}
	return rank, rank | 3
}

// moveRook moves the rook of a castling move, or back.
func (p *Position) moveRook(m Move, forth bool) {
	from, to := p.RookMove(m)
	if !forth {
		from, to = to, from
	}
	rook := p.board[from]
	p.lift(rook, from)
	p.put(rook, to)
	p.key ^= keys.pieces[rook&15][from] ^ keys.pieces[rook&15][to]
}

// Unmake takes back the move m that Make has played and returned u for.
func (p *Position) Unmake(m Move, u Undo) {
	from, to := m.From(), m.To()
	us := p.side.Other()
	p.side = us
	p.full -= uint16(us)
	placed := p.board[to]
	piece := placed
	if m.Promotion() != NoKind {
		piece = MakePiece(us, Pawn)
	}
	p.lift(placed, to)
	p.put(piece, from)
	switch {
	case piece.Kind() == Pawn && to == u.takeable:
		p.put(u.captured, to^8)
	case u.captured != NoPiece:
		p.put(u.captured, to)
	case piece.Kind() == King && (from-to == 2 || to-from == 2):
		p.moveRook(m, false)
	}
	p.key, p.half, p.castle, p.passant, p.takeable = u.key, u.half, u.castle, u.passant, u.takeable
}

// After is the position after the legal move m.
func (p *Position) After(m Move) Position {
	q := *p
	q.Make(m)
	return q
}

// MakeNull passes the move to the other side, as searches do. Not in check.
func (p *Position) MakeNull() Undo {
	u := Undo{key: p.key, half: p.half, castle: p.castle, passant: p.passant, takeable: p.takeable}
	p.key ^= keys.black
	if p.takeable != NoSquare {
		p.key ^= keys.passant[p.takeable&7]
	}
	p.passant, p.takeable = NoSquare, NoSquare
	p.half++
	p.side = p.side.Other()
	return u
}

// UnmakeNull takes MakeNull back.
func (p *Position) UnmakeNull(u Undo) {
	p.key, p.half, p.passant, p.takeable = u.key, u.half, u.passant, u.takeable
	p.side = p.side.Other()
}

// Captured is the piece a legal move takes and where it stands, which for en
// passant is not the square of arrival; NoPiece and NoSquare if it takes none.
func (p *Position) Captured(m Move) (Piece, Square) {
	to := m.To()
	if p.board[m.From()].Kind() == Pawn && to == p.takeable {
		return p.board[to^8], to ^ 8
	}
	if p.board[to] == NoPiece {
		return NoPiece, NoSquare
	}
	return p.board[to], to
}

// IsCastling says whether the legal move m castles.
func (p *Position) IsCastling(m Move) bool {
	return p.board[m.From()].Kind() == King && (m.From()-m.To() == 2 || m.To()-m.From() == 2)
}
