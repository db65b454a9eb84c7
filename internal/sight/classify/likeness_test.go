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
// distances differ by; a kind that has not been met is worse than the known pieces by unlikeMet.
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
	beside := heads.Alike(&heads.Look{0}, &heads.Look{0.1}, true) // each known piece and its like
	if d := beside - says[chess.Knight]; math.Abs(d-unlikeMet) > 1e-9 {
		t.Errorf("a knight, which has not been met, has %.2f nats fewer than the known pieces have", d)
	}
	if c := l.covers([]chess.Kind{chess.Queen, chess.Rook, chess.Knight, chess.Bishop}); c != 0.5 {
		t.Errorf("%g of the kinds have been met", c)
	}
}

// A piece that hardly leans stands for its kind where no other does, and says less.
func TestLikenessWithAPieceThatHardlyLeans(t *testing.T) {
	known := []Known{looking(chess.Queen, 1, 0), looking(chess.Queen, 2, 0.1), looking(chess.Knight, 3, 2)}
	known[2].isNear = true
	l := likenessOf(known)
	says, met := l.weigh(heads.Look{2}, chess.Black, chess.NoSquare)
	if same := nearShare * heads.Alike(&heads.Look{2}, &heads.Look{2}, false); !met[chess.Knight] || math.Abs(says[chess.Knight]-same) > 1e-9 {
		t.Errorf("a knight has %.2f nats, met: %v", says[chess.Knight], met[chess.Knight])
	}
	says, _ = l.weigh(heads.Look{0}, chess.Black, chess.NoSquare)
	if far := nearShare * heads.Alike(&heads.Look{0}, &heads.Look{2}, false); math.Abs(says[chess.Knight]-far) > 1e-9 {
		t.Errorf("a piece unlike the knight has %.2f nats, want %.2f", says[chess.Knight], far)
	}
	l = likenessOf(append(known, looking(chess.Knight, 4, 3)))
	if says, _ = l.weigh(heads.Look{3}, chess.Black, chess.NoSquare); math.Abs(says[chess.Knight]) > 1e-9 {
		t.Errorf("beside one that leans it counts still: %.2f nats", says[chess.Knight])
	}
}

// Where no two known pieces are of one kind, the network's own number stands for those not met.
func TestStrangeWithNothingToCompare(t *testing.T) {
	if l := likenessOf([]Known{looking(chess.Queen, 1, 0), looking(chess.Rook, 2, 4)}); l.unmet != heads.Unmet() {
		t.Errorf("a kind not met has %.2f nats", l.unmet)
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
