// SPDX-License-Identifier: Apache-2.0

package game

import "slices"

// Act is one thing done with one piece: it comes from From, or from beside the
// board when From is NoSquare; to NoSquare it goes off.
type Act struct {
	Piece    Piece
	From, To Square
}

// Undone is what takes acts back: the last first, each the other way.
func Undone(acts []Act) []Act {
	out := slices.Clone(acts)
	slices.Reverse(out)
	for i, a := range out {
		out[i].From, out[i].To = a.To, a.From
	}
	return out
}

// Exchanges says whether two acts in a row put another piece in the place of
// one that stands on a square: off it goes, and on comes its successor.
func Exchanges(off, on Act) bool {
	return off.To == NoSquare && on.From == NoSquare && off.From == on.To
}
