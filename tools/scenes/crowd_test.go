// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// A crowd is a legal position with pieces of every kind that a pawn can become,
// most of them on the last ranks; the same name gives the same one.
func TestCrowd(t *testing.T) {
	last, all := 0, 0
	for seed := range uint64(50) {
		fen := crowd(dice{rand.New(rand.NewPCG(seed, 1))})
		pos, err := chess.ParseFEN(fen)
		if err != nil {
			t.Fatalf("seed %d: %s: %v", seed, fen, err)
		}
		if again := crowd(dice{rand.New(rand.NewPCG(seed, 1))}); again != fen {
			t.Fatalf("seed %d gave %s, then %s", seed, fen, again)
		}
		for q := range chess.NoSquare {
			if k := pos.At(q).Kind(); pos.At(q) != chess.NoPiece && k != chess.King && k != chess.Pawn {
				all++
				if q.Rank() == 0 || q.Rank() == 7 {
					last++
				}
			}
		}
	}
	if all < 50*15 || last*2 < all {
		t.Errorf("%d officers in 50 crowds, %d of them on the last ranks", all, last)
	}
}

// Pieces of other families stay within their measures: nothing higher than the
// piece, and a session of this set has one picture.
func TestOddPieces(t *testing.T) {
	for seed := range uint64(40) {
		d := dice{rand.New(rand.NewPCG(seed, 2))}
		m := drawPieces(d, 40)
		m.drawOdd(d, 40)
		for k, s := range m.of {
			if s.height < 10 || s.base < 10 || s.base > 28 {
				t.Errorf("seed %d: %v is %g × %g mm", seed, k, s.height, s.base)
			}
			for _, r := range s.rings {
				if r.z < 0 || r.z > 1.001 || r.rx < 0 || r.rx > 1.001 {
					t.Errorf("seed %d: %v has a ring of radius %g at %g", seed, k, r.rx, r.z)
				}
			}
			if !strings.Contains(s.object(k), "mesh2") {
				t.Errorf("seed %d: %v has no body", seed, k)
			}
		}
	}
}
