// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// Two plies of one side are not four of both, of which two cancel each other or take a piece the
// long way round.
func TestRoundabout(t *testing.T) {
	queen, err := chess.ParseFEN("rnbqkbnr/pp2ppp1/3p4/2p4p/6P1/2P2P2/PP1PP2P/RNBQKBNR w KQkq - 0 4")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		start chess.Position
		plies string
		is    bool
	}{
		{chess.Start(), "g1f3 g8f6 f3g1", true},
		{chess.Start(), "e2e4 g8f6 d2d4 f6g8", true},
		{chess.Start(), "d2d3 a7a6 d3d4", true},
		{chess.Start(), "a2a3 d7d6 a3a4 d6d5", true},
		{chess.Start(), "g1f3 a7a6 f3e5", false},
		{chess.Start(), "e2e4 d7d5 e4d5", false},
		{queen, "d1c2 h8h6 c2b3 g8f6", true},
		{queen, "d1b3 h8h6 b3e6", false},
	} {
		var plies []chess.Move
		for _, text := range strings.Fields(c.plies) {
			plies = append(plies, chess.MakeMove(square(text[:2]), square(text[2:]), chess.NoKind))
		}
		if got := roundabout(c.start, plies); got != c.is {
			t.Errorf("%v: %v", c.plies, got)
		}
	}
}

func square(name string) chess.Square { return chess.Square(int(name[1]-'1')*8 + int(name[0]-'a')) }
