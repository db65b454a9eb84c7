// SPDX-License-Identifier: Apache-2.0

package chess

// Position is a position with all that the rules need to go on from it: the
// pieces, the side to move, castling rights, the en passant square and the
// counters. The zero value is not a position; take Start or ParseFEN.
type Position struct {
	kinds  [8]Bitboard // by Kind
	colors [2]Bitboard
	board  [64]Piece
	key    uint64
	half   uint16 // half-moves since the last pawn move or capture
	full   uint16 // number of the move, from 1
	side   Color
	castle rights
	// passant is the square crossed by the pawn that has just moved two
	// squares, as FEN shows it; takeable is the same square if an enemy pawn
	// may legally take there, else NoSquare. Only takeable enters the key.
	passant, takeable Square
}

// rights is a set of castling rights.
type rights uint8

const (
	whiteShort rights = 1 << iota
	whiteLong
	blackShort
	blackLong
)

// Start is the position at the start of a game.
func Start() Position { return startPosition }

const startFEN = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

var startPosition = func() Position {
	p, err := ParseFEN(startFEN)
	if err != nil {
		panic(err) // cannot happen: a constant, tested
	}
	return p
}()

// At is the piece on s, or NoPiece.
func (p *Position) At(s Square) Piece { return p.board[s&63] }

// SideToMove is the side whose turn it is.
func (p *Position) SideToMove() Color { return p.side }

// Occupied is where pieces stand.
func (p *Position) Occupied() Bitboard { return p.colors[White] | p.colors[Black] }

// ByColor is where pieces of side c stand.
func (p *Position) ByColor(c Color) Bitboard { return p.colors[c&1] }

// ByKind is where pieces of kind k of either side stand.
func (p *Position) ByKind(k Kind) Bitboard { return p.kinds[k&7] }

// Pieces is where pieces of side c and kind k stand.
func (p *Position) Pieces(c Color, k Kind) Bitboard { return p.colors[c&1] & p.kinds[k&7] }

// KingSquare is where the king of side c stands.
func (p *Position) KingSquare(c Color) Square { return (p.kinds[King] & p.colors[c&1]).First() }

// InCheck says whether the side to move is in check.
func (p *Position) InCheck() bool {
	return p.attacked(p.KingSquare(p.side), p.side.Other(), p.Occupied())
}

// Checkers is the set of pieces that give check.
func (p *Position) Checkers() Bitboard {
	return p.Attackers(p.KingSquare(p.side), p.Occupied()) & p.colors[p.side.Other()]
}

// Key is the Zobrist key. Two positions that are the same in the sense of FIDE
// 9.2.3 have the same key: the en passant square enters it only if a pawn may
// really take there.
func (p *Position) Key() uint64 { return p.key }

// HalfmoveClock is the number of half-moves since the last pawn move or capture.
func (p *Position) HalfmoveClock() int { return int(p.half) }

// MoveNumber is the number of the move, as FEN counts: 1, up after Black's move.
func (p *Position) MoveNumber() int { return int(p.full) }

// Passant is the square a pawn has just crossed by moving two squares, as in
// FEN, or NoSquare.
func (p *Position) Passant() Square { return p.passant }

// put places a piece on an empty square.
func (p *Position) put(piece Piece, s Square) {
	b := Bit(s)
	p.board[s&63] = piece
	p.kinds[piece.Kind()] |= b
	p.colors[piece.Color()&1] |= b
}

// lift takes a piece off its square.
func (p *Position) lift(piece Piece, s Square) {
	b := Bit(s)
	p.board[s&63] = NoPiece
	p.kinds[piece.Kind()] &^= b
	p.colors[piece.Color()&1] &^= b
}

// computeKey is the key from scratch; Make keeps it up to date.
func (p *Position) computeKey() uint64 {
	key := keys.castle[p.castle]
	for s, piece := range p.board {
		if piece != NoPiece {
			key ^= keys.pieces[piece][s]
		}
	}
	if p.takeable != NoSquare {
		key ^= keys.passant[p.takeable.File()]
	}
	if p.side == Black {
		key ^= keys.black
	}
	return key
}
