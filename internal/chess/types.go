// SPDX-License-Identifier: Apache-2.0

// Package chess holds the rules and the notation: one bitboard position for
// the game and for the search.
package chess

import "boardhand/internal/game"

// Squares, sides and pieces are those of every board game on the machine, in
// package game. The rules of chess are written in them, and whoever reads or
// plays chess needs both; so they go by the same names here.
type (
	Square = game.Square
	Color  = game.Color
	Kind   = game.Kind
	Piece  = game.Piece
)

// The squares, sides and kinds, as in package game.
const (
	NoSquare = game.NoSquare
	White    = game.White
	Black    = game.Black
	NoKind   = game.NoKind
	Pawn     = game.Pawn
	Knight   = game.Knight
	Bishop   = game.Bishop
	Rook     = game.Rook
	Queen    = game.Queen
	King     = game.King
	NoPiece  = game.NoPiece
)

// Board is the board of chess with squares of one metre: its files and ranks.
var Board = game.Board{Files: 8, Ranks: 8, Square: 1}

// Kinds are the kinds of pieces of chess, as a rig has them.
var Kinds = &game.ChessKinds

// SquareAt returns the square in file f and rank r, both from 0.
func SquareAt(f, r int) Square { return game.SquareAt(f, r) }

// MakePiece joins a side and a kind.
func MakePiece(c Color, k Kind) Piece { return game.MakePiece(c, k) }

// ColorNamed is the side that a rig or a stored game names: "white", otherwise
// Black.
func ColorNamed(name string) Color { return game.ColorNamed(name) }

// SquareNames writes squares like "e4".
func SquareNames(squares []Square) []string { return game.SquareNames(squares) }

// PieceLettered reads the letter of a piece as in a FEN.
func PieceLettered(letter string) (Piece, error) { return game.PieceLettered(letter) }
