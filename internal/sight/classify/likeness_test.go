// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
)

// looking is a known piece on a square, whose look is one number and zeros.
func looking(k chess.Kind, s chess.Square, x float64) Known {
	return Known{kind: k, square: s, look: heads.Look{x}}
}

// A piece is of the kind of those that it looks like, by as many nats as the squares of the
// distances differ by; a kind that has not been met keeps its even share.
func TestLikeness(t *testing.T) {
	l := likenessOf([]Known{looking(chess.Queen, 1, 0), looking(chess.Queen, 2, 0.1), looking(chess.Rook, 3, 4), looking(chess.Rook, 4, 4.1)})
	if l.share != 1 {
		t.Errorf("known pieces look like their kinds, and %g of that counts", l.share)
	}
	says, met := l.weigh(heads.Look{0}, chess.Black, chess.NoSquare)
	if !met[chess.Queen] || !met[chess.Rook] || met[chess.Knight] || met[chess.Bishop] {
		t.Errorf("met: %v", met)
	}
	if d := says[chess.Queen] - says[chess.Rook]; math.Abs(d-16.4) > 0.1 { // −(0, 0.01)/2 against −(16, 16.81)/2
		t.Errorf("a queen leads a rook by %.2f nats", d)
	}
	if says[chess.Knight] != heads.Unmet() {
		t.Errorf("a knight, which has not been met, has %.2f nats", says[chess.Knight])
	}
	if c := l.covers([]chess.Kind{chess.Queen, chess.Rook, chess.Knight, chess.Bishop}); c != 0.5 {
		t.Errorf("%g of the kinds have been met", c)
	}
}

// Where known pieces do not look like their kinds, likeness says little or nothing; a piece
// does not vouch for itself.
func TestLikenessOfAMixedSet(t *testing.T) {
	l := likenessOf([]Known{looking(chess.Queen, 1, 0), looking(chess.Queen, 2, 4), looking(chess.Rook, 3, 0), looking(chess.Rook, 4, 4)})
	if l.share > 0.3 {
		t.Errorf("%g of what is said counts", l.share)
	}
	alone := likenessOf([]Known{looking(chess.Queen, 1, 0), looking(chess.Rook, 2, 0)})
	if v := alone.names(&alone.known[0], 1); v != 0 {
		t.Errorf("a single queen names itself with %g nats", v)
	}
}
