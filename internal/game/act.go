// SPDX-License-Identifier: Apache-2.0

package game

// Act is one thing done with one piece: it comes from From, or from beside the
// board when From is NoSquare; to NoSquare it goes off.
type Act struct {
	Piece    Piece
	From, To Square
}

// Undone is what takes acts back: the last first, each the other way. Acts that
// do not meet stay in their order, which custom gives them: in castling the
// king goes first, there and back.
func Undone(acts []Act) []Act {
	out := make([]Act, 0, len(acts))
	for end := len(acts); end > 0; {
		from := end - 1
		for from > 0 && AreApart(acts[from-1], acts[from]) {
			from--
		}
		for _, a := range acts[from:end] {
			out = append(out, Act{a.Piece, a.To, a.From})
		}
		end = from
	}
	return out
}

// AreApart says whether two acts move two pieces over the board without meeting:
// their order is one of custom.
func AreApart(a, b Act) bool {
	return max(a.From, a.To, b.From, b.To) < NoSquare &&
		a.From != b.From && a.From != b.To && a.To != b.From && a.To != b.To
}

// AreExchange says whether two acts in a row put another piece in the place of
// one that stands on a square: off it goes, and on comes its successor.
func AreExchange(off, on Act) bool {
	return off.From < NoSquare && off.To >= NoSquare && on.From >= NoSquare && off.From == on.To
}
