// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"

	"boardhand/internal/chess"
)

// heads is the set of single pictures of crowded boards, from which
// tools/heads learns to tell the kinds of pieces.
const heads = "heads"

// crowd draws a position with many officers, most of them on the last ranks,
// where pawns are promoted: legal, though no game leads to it.
func crowd(d dice) string {
	for {
		fen := scatter(d) + " w - - 0 30"
		if _, err := chess.ParseFEN(fen); err == nil {
			return fen
		}
	}
}

// scatter is the placement of a crowd as in a FEN, kings wherever they fall.
func scatter(d dice) string {
	var b [8][8]byte
	for r := range b {
		for f := range b[r] {
			share, letters := 0.15, "qrbnQRBNqrbnQRBNpPpPpP"
			switch {
			case r == 0 || r == 7:
				share, letters = 0.72, "qrbnQRBN"
			case f == 0 || f == 7:
				share = 0.3
			}
			if d.chance(share) {
				b[r][f] = letters[d.IntN(len(letters))]
			}
		}
	}
	b[d.IntN(8)][d.IntN(4)] = 'k'
	b[d.IntN(8)][4+d.IntN(4)] = 'K'
	return fenOf(b)
}

// gap is a number of empty squares in a FEN.
func gap(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}
