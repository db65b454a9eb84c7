// SPDX-License-Identifier: Apache-2.0

// Package game holds the words that every board game on the machine shares:
// squares, sides, pieces, the board they stand on, and what is done with one
// piece. It knows no rules; those of chess are in package chess.
package game

// Square is a square of the board: a1 = 0, b1 = 1, …, h8 = 63. Boards with
// fewer files leave numbers out: each rank begins at a multiple of 8.
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

// SquareNames writes squares like "e4".
func SquareNames(squares []Square) []string {
	names := make([]string, len(squares))
	for i, s := range squares {
		names[i] = s.String()
	}
	return names
}
