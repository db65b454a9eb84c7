// SPDX-License-Identifier: Apache-2.0

package host

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/table/places"
)

func TestHalfwayToAMove(t *testing.T) {
	const castles, passing, promotes = "4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1", "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "4k3/P7/8/8/8/8/8/4K3 w - - 0 1"
	for _, c := range []struct {
		desc, fen, done string // done by hand: "e1g1 d5-" moves and takes off
		some            bool
		move, left      string
	}{
		{"nothing", castles, "", false, "", ""},
		{"the king of castling", castles, "e1g1", true, "e1g1", "put the white rook back on f1"},
		{"castling", castles, "e1g1 h1f1", true, "e1g1", ""},
		{"a rook's own move", castles, "h1f1", true, "h1f1", ""},
		{"a rook's move and the king's", castles, "a1d1 e1c1", true, "e1c1", ""},
		{"no move at all", castles, "a1b3", false, "", ""},
		{"the pawn of en passant", passing, "e5d6", true, "e5d6", "take the black pawn off d5"},
		{"what is taken en passant first", passing, "d5-", true, "e5d6", "put the white pawn back on d6"},
		{"a pawn on its last rank", promotes, "a7a8", true, "a7a8", ""},
		{"a king lifted", "4k3/8/8/8/8/8/8/4K3 w - - 0 1", "e1-", true, "", ""},
	} {
		pos := positionOf(t, c.fen)
		h, s := newHand(), places.StandingOf(pos)
		for _, act := range strings.Fields(c.done) {
			to := chess.NoSquare
			if len(act) == 4 {
				to = sq(act[2:])
			}
			if err := h.move(s, sq(act[:2]), to); err != nil {
				t.Fatal(err)
			}
		}
		got := HalfwayTo(pos, h.board(s))
		move := ""
		if got.Move != 0 {
			move = got.Move.String()[:4]
		}
		if got.IsSome != c.some || move != c.move || c.left != "" && backWords(got.Left) != c.left || c.left == "" && c.move != "a7a8" && len(got.Left) > 0 {
			t.Errorf("%s: got %+v (%s), want move %q, left %q", c.desc, got, backWords(got.Left), c.move, c.left)
		}
	}
}
