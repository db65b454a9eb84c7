// SPDX-License-Identifier: Apache-2.0

package game

import (
	"fmt"
	"strings"
)

// Placement writes what stands on a board as the first field of a FEN: ranks
// from the last down, empty squares counted, each piece by the letter of its kind.
func (ks *Kinds) Placement(b Board, at Layout) string {
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
			out.WriteByte(ks.LetterOf(p))
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
func (ks *Kinds) ParsePlacement(b Board, text string) (Setting, error) {
	var out Setting
	ranks := strings.Split(text, "/")
	if len(ranks) != b.Ranks {
		return out, fmt.Errorf("the pieces stand on %d ranks, separated by /; got %d", b.Ranks, len(ranks))
	}
	for i, rank := range ranks {
		if err := ks.parseRank(b, rank, b.Ranks-1-i, &out); err != nil {
			return out, err
		}
	}
	return out, nil
}

// parseRank reads one rank of a placement.
func (ks *Kinds) parseRank(board Board, text string, r int, into *Setting) error {
	f, digit := 0, false
	for _, c := range text {
		if c >= '1' && c <= '0'+rune(board.Files) && !digit {
			f += int(c - '0')
			digit = true
			continue
		}
		k := ks.Lettered(c &^ 0x20)
		if k == NoKind || c > 'z' {
			upper := ks.lettersText()
			return fmt.Errorf("rank %d: %q is neither a piece (%s, %s) nor a single number of empty squares", r+1, c, upper, strings.ToLower(upper))
		}
		if f < board.Files {
			into[SquareAt(f, r)] = MakePiece(Color(c>>5&1), k)
		}
		f, digit = f+1, false
	}
	if f != board.Files {
		return fmt.Errorf("rank %d has %d squares; %d are needed", r+1, f, board.Files)
	}
	return nil
}
