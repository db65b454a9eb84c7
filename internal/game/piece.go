// SPDX-License-Identifier: Apache-2.0

package game

import (
	"fmt"
	"strings"
)

// Color is one of the two sides who play.
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

// ColorNamed is the side that a rig or a stored game names: "white", otherwise
// Black.
func ColorNamed(name string) Color {
	if name == White.String() {
		return White
	}
	return Black
}

// Kind is the kind of a piece. A game with fewer kinds uses some of them: each
// has its shape in the rig file.
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

// Kinds are all kinds in the order of the rig file, from king to pawn.
var Kinds = [...]Kind{King, Queen, Bishop, Knight, Rook, Pawn}

// kindLetters are the letters of the trade, by kind.
const kindLetters = " PNBRQK"

// String prints "pawn", "knight", …; "none" for NoKind.
func (k Kind) String() string {
	return [...]string{"none", "pawn", "knight", "bishop", "rook", "queen", "king"}[k]
}

// Letter is the upper-case letter of the trade: P N B R Q K.
func (k Kind) Letter() byte { return kindLetters[k] }

// KindLettered is the kind with an upper-case letter of the trade; NoKind for
// any other character.
func KindLettered(letter rune) Kind {
	return Kind(max(strings.IndexRune(kindLetters, letter), 0))
}

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

// PieceLettered reads the letter of a piece as in a FEN.
func PieceLettered(letter string) (Piece, error) {
	for _, c := range []Color{White, Black} {
		for k := Pawn; k <= King; k++ {
			if p := MakePiece(c, k); letter == string(p.Letter()) {
				return p, nil
			}
		}
	}
	return NoPiece, fmt.Errorf("%q is not the letter of a piece: give one of KQRBNP for White, kqrbnp for Black", letter)
}
