// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"slices"

	"boardhand/internal/chess"
)

// Occupancy is what stands on every square.
type Occupancy [64]chess.Piece

// OccupancyOf is what stands on every square of a position.
func OccupancyOf(p *chess.Position) Occupancy {
	var m Occupancy
	for s := range m {
		m[s] = p.At(chess.Square(s))
	}
	return m
}

// Differing lists the squares on which two boards differ.
func Differing(a, b Occupancy) []chess.Square {
	var out []chess.Square
	for s := range a {
		if a[s] != b[s] {
			out = append(out, chess.Square(s))
		}
	}
	return out
}

// Merge lists the squares of two lists, sorted, each of them once.
func Merge(a, b []chess.Square) []chess.Square {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}
