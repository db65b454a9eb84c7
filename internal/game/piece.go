// SPDX-License-Identifier: Apache-2.0

package game

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

// Kind is the kind of a piece: a number, to which the Kinds of a game give a name.
type Kind uint8

// NoKind is that of an empty square.
const NoKind Kind = 0

// The kinds of chess, in rising value: bitboards and tables go by these numbers.
const (
	Pawn Kind = iota + 1
	Knight
	Bishop
	Rook
	Queen
	King
)

// chessNames are those of the kinds of chess.
var chessNames = [...]string{"none", "pawn", "knight", "bishop", "rook", "queen", "king"}

// String prints "pawn", "knight", …, as in chess; "none" for NoKind. The kinds of
// another game are named by its Kinds.
func (k Kind) String() string { return chessNames[k] }

// Letter is the upper-case letter of the trade, as in chess: P N B R Q K.
func (k Kind) Letter() byte { return ChessKinds.Letter(k) }

// KindLettered is the kind of chess with an upper-case letter of the trade; NoKind for
// any other character.
func KindLettered(letter rune) Kind { return ChessKinds.Lettered(letter) }

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

// String prints "white knight", as in chess; "empty" for NoPiece.
func (p Piece) String() string { return ChessKinds.NameOf(p) }

// Letter is the FEN letter, as in chess: upper case White, lower case Black.
func (p Piece) Letter() byte { return ChessKinds.LetterOf(p) }

// PieceLettered reads the letter of a piece of chess as in a FEN.
func PieceLettered(letter string) (Piece, error) { return ChessKinds.PieceLettered(letter) }
