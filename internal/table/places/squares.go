// SPDX-License-Identifier: Apache-2.0

package places

import (
	"slices"
	"strings"

	"boardhand/internal/chess"
)

// BoardOf copies a position's pieces.
func BoardOf(p chess.Position) (b [64]chess.Piece) {
	for q := range b {
		b[q] = p.At(chess.Square(q))
	}
	return b
}

// Touched lists the squares whose pieces a move changes.
func Touched(p chess.Position, m chess.Move) (out []chess.Square) {
	for _, a := range p.Acts(m) {
		for _, s := range [2]chess.Square{a.From, a.To} {
			if s < chess.NoSquare && !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// Covers says whether some squares, at least one, are among all.
func Covers(all, some []chess.Square) bool {
	for _, s := range some {
		found := false
		for _, a := range all {
			found = found || a == s
		}
		if !found {
			return false
		}
	}
	return len(some) > 0
}

// List says "e4", "e2 and e4", "e2, e3 and e4".
func List(squares []chess.Square) string {
	switch n := len(squares); n {
	case 0:
		return "the board"
	case 1:
		return squares[0].String()
	default:
		var parts []string
		for _, s := range squares[:n-1] {
			parts = append(parts, s.String())
		}
		return strings.Join(parts, ", ") + " and " + squares[n-1].String()
	}
}
