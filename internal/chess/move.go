// SPDX-License-Identifier: Apache-2.0

package chess

import "boardhand/internal/game"

// Move is a move from square to square, with the kind promoted to: castling
// is the king's move, e1g1. The zero value is no move.
type Move uint16

// MakeMove joins the parts of a move; promotion is NoKind for most.
func MakeMove(from, to Square, promotion Kind) Move {
	return Move(from) | Move(to)<<6 | Move(promotion)<<12
}

// From is the square the piece leaves.
func (m Move) From() Square { return Square(m & 63) }

// To is the square the piece reaches.
func (m Move) To() Square { return Square(m >> 6 & 63) }

// Promotion is the kind the pawn becomes, or NoKind.
func (m Move) Promotion() Kind { return Kind(m >> 12 & 7) }

// String prints the move in UCI form, "e2e4", "e7e8q"; "0000" for no move.
func (m Move) String() string {
	if m == 0 {
		return "0000"
	}
	s := m.From().String() + m.To().String()
	if k := m.Promotion(); k != NoKind {
		s += string([]byte{k.Letter() | 0x20})
	}
	return s
}

// Acts are what hands, or the machine, do to make the legal move m, in the
// order in which the laws have it done: the captured piece goes off, wherever
// it stands; the piece moves, in castling the king and then its rook; a pawn
// that is promoted goes off its last square and its successor comes on from
// beside the board. game.Undone takes them back.
func (p *Position) Acts(m Move) []game.Act {
	var out []game.Act
	if piece, sq := p.Captured(m); sq != NoSquare {
		out = append(out, game.Act{Piece: piece, From: sq, To: NoSquare})
	}
	piece := p.At(m.From())
	out = append(out, game.Act{Piece: piece, From: m.From(), To: m.To()})
	if p.IsCastling(m) {
		from, to := p.RookMove(m)
		out = append(out, game.Act{Piece: p.At(from), From: from, To: to})
	}
	if k := m.Promotion(); k != NoKind {
		out = append(out, game.Act{Piece: piece, From: m.To(), To: NoSquare},
			game.Act{Piece: MakePiece(piece.Color(), k), From: NoSquare, To: m.To()})
	}
	return out
}
