// SPDX-License-Identifier: Apache-2.0

package view

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// What is missing is said once, again when it is something else for some pictures, at
// once when it is of another kind, and after a while in any case.
func TestInsistence(t *testing.T) {
	odd := func(squares ...chess.Square) sight.Reading {
		return sight.Reading{State: sight.Illegal, Squares: squares}
	}
	var n Insistence
	due := func(r sight.Reading, want bool, why string) {
		t.Helper()
		if got := n.IsDue(r); got != want {
			t.Errorf("%s: due %v", why, got)
		}
	}
	due(odd(1), true, "said for the first time")
	due(odd(1), false, "the same")
	due(odd(2), false, "a flicker")
	due(odd(2), true, "other squares for some pictures")
	due(sight.Reading{State: sight.Partial, Squares: []chess.Square{2}}, true, "another kind")
	for range RemindAfter - 1 {
		due(sight.Reading{State: sight.Partial, Squares: []chess.Square{2}}, false, "the same, before long")
	}
	due(sight.Reading{State: sight.Partial, Squares: []chess.Square{2}}, true, "the same, after a while")
}
