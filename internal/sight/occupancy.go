// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"slices"
)

// pieces is what stands on every square.
type pieces [64]chess.Piece

func piecesOf(p *chess.Position) pieces {
	var m pieces
	for s := range m {
		m[s] = p.At(chess.Square(s))
	}
	return m
}

// differing lists the squares on which two boards differ.
func differing(a, b pieces) []chess.Square {
	var out []chess.Square
	for s := range a {
		if a[s] != b[s] {
			out = append(out, chess.Square(s))
		}
	}
	return out
}

func merge(a, b []chess.Square) []chess.Square {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}
