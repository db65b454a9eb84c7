// SPDX-License-Identifier: Apache-2.0

package sight_test

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
	"boardhand/internal/twin"
)

// Everything that was learnt is wrong: another camera, light and board. Once no
// rule has explained the pictures for long, the reader looks at them afresh, and
// finds the position, or the one move that was made meanwhile.
func TestStuckReaderRecovers(t *testing.T) {
	start := chess.Start()
	e4, err := start.ParseUCI("e2e4")
	if err != nil {
		t.Fatal(err)
	}
	moved := start.After(e4)
	boards := map[string]chess.Position{"a move": moved}
	if seeds(0, 1) > 0 {
		boards["the position"] = start
	}
	for name, shown := range boards {
		b := setTable(t, twin.Options{Seed: 8}, start)
		if got := b.look(t); got.State != sight.Same {
			t.Fatalf("the start is read as %s", got.State)
		}
		b.world = setTable(t, twin.Options{Seed: 9, FEN: shown.FEN()}, shown).world
		var got sight.Reading
		looks := 0
		for ; looks < 24; looks++ {
			if got = b.look(t); got.State == sight.Same || got.State == sight.Moved {
				break
			}
		}
		if want := map[bool]sight.State{true: sight.Same, false: sight.Moved}[shown == start]; got.State != want || want == sight.Moved && got.Move != e4 {
			t.Errorf("%s on another table is read as %s %v after %d pictures", name, got.State, got.Move, looks)
			continue
		}
		if got.State == sight.Moved {
			if err := b.reader.Accept(got.Move); err != nil {
				t.Fatal(err)
			}
		}
		if got := b.look(t); got.State != sight.Same {
			t.Errorf("after it, %s is read as %s %v", name, got.State, got.Squares)
		}
	}
}
