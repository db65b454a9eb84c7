// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
)

// Two pieces that look like each other's kind are found, where there are others of both kinds
// to compare with; pieces in their places are not doubted.
func TestExchanged(t *testing.T) {
	l := Lineup{pieces: []Known{looking(chess.Rook, 0, 0), looking(chess.Knight, 1, 4), looking(chess.Bishop, 2, 8),
		looking(chess.Bishop, 5, 8.1), looking(chess.Knight, 6, 4.1), looking(chess.Rook, 7, 0.1)}}
	if x := l.Exchanged(); x.Belief > 1e-6 {
		t.Errorf("all stand in their places, and %v are exchanged with %.3g", x.Squares, x.Belief)
	}
	l.pieces[1].kind, l.pieces[2].kind = chess.Bishop, chess.Knight
	if x := l.Exchanged(); x.Belief < 0.99 || x.Squares != [2]chess.Square{1, 2} {
		t.Errorf("a knight on b1 and a bishop on c1 in each other's places: %v with %.3g", x.Squares, x.Belief)
	}
	l.pieces = l.pieces[:3]
	if x := l.Exchanged(); x.Belief != 0 {
		t.Errorf("with one piece of each kind %v are exchanged with %.3g", x.Squares, x.Belief)
	}
}

// What looks as unlike every piece of the set as no two of a kind do is none of them.
func TestResembles(t *testing.T) {
	l := Lineup{pieces: []Known{looking(chess.Rook, 0, 0), looking(chess.Rook, 7, 0.5), looking(chess.Knight, 1, 4), looking(chess.Knight, 6, 4.5)}}
	if p := l.resembles(heads.Look{4.2}); p < 0.97 {
		t.Errorf("a knight is of this set with %.3f", p)
	}
	if p := l.resembles(heads.Look{12}); p > 0.01 {
		t.Errorf("a stranger is of this set with %.3f", p)
	}
}
