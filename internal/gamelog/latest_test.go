// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"testing"

	"boardhand/internal/store"
)

// Which game is gone on with.
func TestUnfinishedGame(t *testing.T) {
	g := func(id int64, plies int, result, reason string) store.Game {
		return store.Game{ID: id, Plies: plies, Result: result, Reason: reason}
	}
	for _, c := range []struct {
		games []store.Game // newest first
		want  int64
	}{
		{nil, 0},
		{[]store.Game{g(1, 0, "*", "")}, 1},
		{[]store.Game{g(3, 0, "*", ""), g(2, 0, "*", ""), g(1, 4, "*", "")}, 1},
		{[]store.Game{g(2, 4, "*", store.Abandoned), g(1, 0, "*", "")}, 1},
		{[]store.Game{g(2, 4, "1-0", "checkmate")}, 0},
		{[]store.Game{g(3, 2, "*", ""), g(2, 4, "*", "")}, 3},
	} {
		got, ok := Unfinished(c.games)
		if got.ID != c.want || ok != (c.want != 0) {
			t.Errorf("of %+v it takes %d", c.games, got.ID)
		}
	}
}
