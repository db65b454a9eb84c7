// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"testing"

	"boardhand/internal/chess"
)

// Two plies of one side are not four of both, of which two cancel each other.
func TestComesBack(t *testing.T) {
	for _, c := range []struct {
		plies []string
		is    bool
	}{
		{[]string{"a1a6", "d8c8", "g2g3", "c8d8"}, true},
		{[]string{"a1a6", "d8c8", "g2g3", "c8c7"}, false},
		{[]string{"e2e4", "d7d5", "e4d5"}, false},
		{[]string{"b1c3", "d7d5", "c3b1", "d5d4"}, true},
		{[]string{"b1c3", "d5d4", "a2a3", "d4c3"}, false},
	} {
		var plies []chess.Move
		for _, text := range c.plies {
			from, to := square(text[:2]), square(text[2:])
			plies = append(plies, chess.MakeMove(from, to, chess.NoKind))
		}
		if got := comesBack(plies); got != c.is {
			t.Errorf("%v: %v", c.plies, got)
		}
	}
}

func square(name string) chess.Square { return chess.Square(int(name[1]-'1')*8 + int(name[0]-'a')) }
