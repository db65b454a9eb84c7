// SPDX-License-Identifier: Apache-2.0

package table

import (
	"testing"

	"boardhand/internal/table/journal"
)

// A castling with the king in its place and the rook still in its own, as a power
// cut leaves it, is finished by the machine: the king is no piece that slipped.
func TestHalfMadeCastlingIsFinished(t *testing.T) {
	p := &paper{places: map[string]string{"g8": "k", "h8": "r", "e1": "K"}, script: []string{
		"slipped e8,g8", "slipped e8,g8", "slipped e8,g8", "slipped e8,g8", "move e8g8", "move e8g8"}}
	_ = p.run(t, "4k2r/8/8/8/8/8/8/4K3 b k - 0 1", "e8g8")
	if got := p.did(); got != "home replan move up move down" {
		t.Errorf("the machine did %q: %q", got, p.said)
	}
	if p.count(journal.Requested) > 0 || len(p.table.Game().Moves) != 1 {
		t.Errorf("asked %d times; the game is %v", p.count(journal.Requested), p.table.Game().Moves)
	}
}
