// SPDX-License-Identifier: Apache-2.0

package places

import (
	"testing"

	"boardhand/internal/chess"
)

// After a castling, a capture en passant and a promotion each piece has the name
// of the square where the game began for it, and a new piece that of its own.
func TestNamesFollowTheMovesOfAGame(t *testing.T) {
	start, err := chess.ParseFEN("4k3/P2p4/8/4P3/8/8/8/4K2R b K - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	g := chess.NewGame(start)
	for _, text := range []string{"d7d5", "e5d6", "e8f7", "e1g1", "f7e6", "a7a8q"} {
		pos := g.Position()
		m, err := pos.ParseUCI(text)
		if err == nil {
			err = g.Push(m)
		}
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
	}
	n := NamesAfter(g)
	for at, want := range map[string]string{"e6": "e8", "g1": "e1", "f1": "h1", "d6": "e5", "a8": "a8", "d5": "d5", "h1": "h1"} {
		if got := n.Of(Place(chess.SquareAt(int(at[0]-'a'), int(at[1]-'1')))); got != want {
			t.Errorf("on %s stands the piece of %s, want %s", at, got, want)
		}
	}
}
