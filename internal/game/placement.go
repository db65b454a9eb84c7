// SPDX-License-Identifier: Apache-2.0

package game

import (
	"fmt"
	"strings"
)

// Placement writes what stands on a board as the first field of a FEN: ranks
// from the last down, empty squares counted.
func Placement(b Board, at Layout) string {
	var out strings.Builder
	for r := b.Ranks - 1; r >= 0; r-- {
		gap := 0
		for f := range b.Files {
			p := at.At(SquareAt(f, r))
			if p == NoPiece {
				gap++
				continue
			}
			if gap > 0 {
				out.WriteByte('0' + byte(gap))
			}
			gap = 0
			out.WriteByte(p.Letter())
		}
		if gap > 0 {
			out.WriteByte('0' + byte(gap))
		}
		if r > 0 {
			out.WriteByte('/')
		}
	}
	return out.String()
}

// ParsePlacement reads the first field of a FEN for a board of that size.
func ParsePlacement(b Board, text string) (Setting, error) {
	var out Setting
	ranks := strings.Split(text, "/")
	if len(ranks) != b.Ranks {
		return out, fmt.Errorf("the pieces stand on %d ranks, separated by /; got %d", b.Ranks, len(ranks))
	}
	for i, rank := range ranks {
		if err := out.parseRank(b, rank, b.Ranks-1-i); err != nil {
			return out, err
		}
	}
	return out, nil
}

// parseRank reads one rank of a placement.
func (b *Setting) parseRank(board Board, text string, r int) error {
	f, digit := 0, false
	for _, c := range text {
		if c >= '1' && c <= '0'+rune(board.Files) && !digit {
			f += int(c - '0')
			digit = true
			continue
		}
		k := KindLettered(c &^ 0x20)
		if k == NoKind || c > 'z' {
			return fmt.Errorf("rank %d: %q is neither a piece (KQRBNP, kqrbnp) nor a single number of empty squares", r+1, c)
		}
		if f < board.Files {
			b[SquareAt(f, r)] = MakePiece(Color(c>>5&1), k)
		}
		f, digit = f+1, false
	}
	if f != board.Files {
		return fmt.Errorf("rank %d has %d squares; %d are needed", r+1, f, board.Files)
	}
	return nil
}
