// SPDX-License-Identifier: Apache-2.0

// Package chess holds the rules and the notation: one bitboard position for
// the game and for the search.
package chess

import "fmt"

// Square is a square of the board: a1 = 0, b1 = 1, …, h8 = 63.
type Square uint8

// NoSquare marks "no square" and "beside the board".
const NoSquare Square = 64

// SquareAt returns the square in file f and rank r, both from 0.
func SquareAt(f, r int) Square { return Square(r*8 + f) }

// File is 0 for a to 7 for h.
func (s Square) File() int { return int(s & 7) }

// Rank is 0 for rank 1 to 7 for rank 8.
func (s Square) Rank() int { return int(s >> 3) }

// String prints "e4", or "-" for NoSquare.
func (s Square) String() string {
	if s >= NoSquare {
		return "-"
	}
	return string([]byte{'a' + byte(s&7), '1' + byte(s>>3)})
}

// Color is the side.
type Color uint8

// The sides.
const (
	White Color = iota
	Black
)

// Other is the opponent.
func (c Color) Other() Color { return c ^ 1 }

// String prints "white" or "black".
func (c Color) String() string {
	if c == White {
		return "white"
	}
	return "black"
}

// Kind is the kind of a piece.
type Kind uint8

// The kinds, in rising value.
const (
	NoKind Kind = iota
	Pawn
	Knight
	Bishop
	Rook
	Queen
	King
)

// String prints "pawn", "knight", …; "none" for NoKind.
func (k Kind) String() string {
	return [...]string{"none", "pawn", "knight", "bishop", "rook", "queen", "king"}[k]
}

// Letter is the upper-case letter of the trade: P N B R Q K.
func (k Kind) Letter() byte { return " PNBRQK"[k] }

// Piece is a kind with its side; the zero value is an empty square.
type Piece uint8

// NoPiece is an empty square.
const NoPiece Piece = 0

// MakePiece joins a side and a kind.
func MakePiece(c Color, k Kind) Piece { return Piece(c)<<3 | Piece(k) }

// Color is the side of the piece; White for NoPiece.
func (p Piece) Color() Color { return Color(p >> 3) }

// Kind is the kind of the piece.
func (p Piece) Kind() Kind { return Kind(p & 7) }

// String prints "white knight"; "empty" for NoPiece.
func (p Piece) String() string {
	if p == NoPiece {
		return "empty"
	}
	return p.Color().String() + " " + p.Kind().String()
}

// Letter is the FEN letter: upper case White, lower case Black.
func (p Piece) Letter() byte {
	if p.Color() == Black {
		return p.Kind().Letter() | 0x20
	}
	return p.Kind().Letter()
}

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

// ColorNamed is the side that a rig or a stored game names: "white", otherwise
// Black.
func ColorNamed(name string) Color {
	if name == White.String() {
		return White
	}
	return Black
}

// SquareNames writes squares like "e4".
func SquareNames(squares []Square) []string {
	names := make([]string, len(squares))
	for i, s := range squares {
		names[i] = s.String()
	}
	return names
}

// PieceLettered reads the letter of a piece as in a FEN.
func PieceLettered(letter string) (Piece, error) {
	for _, c := range []Color{White, Black} {
		for k := Pawn; k <= King; k++ {
			if p := MakePiece(c, k); letter == string(p.Letter()) {
				return p, nil
			}
		}
	}
	return NoPiece, fmt.Errorf("%q is not the letter of a piece", letter)
}
