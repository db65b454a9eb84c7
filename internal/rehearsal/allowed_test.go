// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

func TestAllowances(t *testing.T) {
	pos, err := chess.ParseFEN("4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("e4d5")
	if err != nil {
		t.Fatal(err)
	}
	sq := func(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }
	truth := func(edit func(*twin.Truth)) twin.Truth {
		out := twin.Truth{Squares: places.StandingOf(pos).Board}
		edit(&out)
		return out
	}
	for _, c := range []struct {
		desc string
		edit func(*twin.Truth)
		want int
	}{
		{"as it was", func(*twin.Truth) {}, 0},
		{"taken off", func(w *twin.Truth) { w.Squares[sq("d5")] = chess.NoPiece }, 0},
		{"done", func(w *twin.Truth) { w.Squares = places.StandingOf(pos.After(m)).Board }, 0},
		{"on its way", func(w *twin.Truth) { w.Squares[sq("e5")], w.Squares[sq("e4")] = w.Squares[sq("e4")], chess.NoPiece }, 0},
		{"two on their way", func(w *twin.Truth) {
			w.Squares[sq("e5")], w.Squares[sq("e4")] = w.Squares[sq("e4")], chess.NoPiece
			w.Squares[sq("c5")], w.Squares[sq("d5")] = w.Squares[sq("d5")], chess.NoPiece
		}, 1},
		{"no king", func(w *twin.Truth) { w.Squares[sq("e8")] = chess.NoPiece }, 1},
		{"a king in the hand", func(w *twin.Truth) {
			w.InHand, w.Squares[sq("e8")] = w.Squares[sq("e8")], chess.NoPiece
		}, 0},
	} {
		if got := InMove(pos, m).differing(truth(c.edit)); len(got) != c.want {
			t.Errorf("%s: %v", c.desc, got)
		}
	}
}

// A move that the guest has played before its turn is not held against the game; any other
// piece that stands wrongly is.
func TestPlayedBeforeTheTurn(t *testing.T) {
	pos := chess.Start()
	reply, err := pos.ParseUCI("g1f3")
	if err != nil {
		t.Fatal(err)
	}
	w := twin.Truth{Squares: places.StandingOf(pos.After(reply)).Board}
	if got := Differing(w, []Allowance{At(pos)}); len(got) != 2 {
		t.Errorf("a knight moved by nobody: %v", got)
	}
	w.Early = reply
	if got := Differing(w, []Allowance{At(pos)}); len(got) != 0 {
		t.Errorf("a knight moved early: %v", got)
	}
	w.Squares[chess.SquareAt(4, 7)] = chess.NoPiece
	if got := Differing(w, []Allowance{At(pos)}); len(got) != 1 {
		t.Errorf("and no king: %v", got)
	}
}
