// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
)

// says is a head that is n nats surer of one kind than of any other.
func says(k chess.Kind, n float64) (w [chess.King + 1]float64) {
	w[k] = n
	return w
}

// What heads say counts in full when they name the known pieces rightly, less when
// they err, and not at all when they say the contrary of what is so.
func TestFaith(t *testing.T) {
	kinds := heads.Officers[:]
	right := []Known{{kind: chess.Rook, weigh: says(chess.Rook, 6)}, {kind: chess.Knight, weigh: says(chess.Knight, 5)}, {kind: chess.Bishop, weigh: says(chess.Bishop, 7)}}
	wrong := []Known{{kind: chess.Rook, weigh: says(chess.Queen, 6)}, {kind: chess.Knight, weigh: says(chess.Bishop, 5)}, {kind: chess.Bishop, weigh: says(chess.Rook, 7)}}
	if f := trustIn(nil); f != 1 {
		t.Errorf("nobody is known: %g, want 1", f)
	}
	if f := trustIn(right); f != 1 {
		t.Errorf("all named rightly: %g, want 1", f)
	}
	if f := trustIn(wrong); f != 0 {
		t.Errorf("all named wrongly: %g, want 0", f)
	}
	if f := trustIn(append(right, wrong...)); f <= 0 || f >= 0.7 {
		t.Errorf("half of them named wrongly: %g, want some", f)
	}
	if s := shares(&wrong[0].weigh, kinds, 0); math.Abs(s[chess.Queen]-math.Log(0.25)) > 1e-12 {
		t.Errorf("without faith a queen has %.3f nats, want ln 1/4", s[chess.Queen])
	}
	if s := shares(&right[0].weigh, kinds, 1); math.Abs(s[chess.Rook]+math.Log1p(3*math.Exp(-6))) > 1e-12 {
		t.Errorf("a rook 6 nats ahead of three has %.6f nats", s[chess.Rook])
	}
}
