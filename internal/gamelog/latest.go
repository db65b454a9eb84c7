// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"context"
	"slices"
	"strings"

	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// Latest is the game to go on with, of a list with the newest first: the newest
// one when the pieces were being set up after it, or had just been, else the
// last unfinished one. False: there is none.
func Latest(ctx context.Context, s *store.Store, games []store.Game) (store.Game, bool) {
	games = Played(games)
	if len(games) > 0 && games[0].Damaged == nil && !games[0].Open() {
		if k, err := Tell(ctx, s, games[0]); err == nil && (k.Task.Kind != journal.NoTask || k.Set != nil) {
			return games[0], true
		}
	}
	return Unfinished(games)
}

// Played are the games of a list that were played at the table.
func Played(games []store.Game) []store.Game {
	return slices.DeleteFunc(slices.Clone(games), store.Game.IsAdded)
}

// Unfinished is the last unfinished game of a list, newest first, in which
// something was played; if there is none, the last unfinished one.
func Unfinished(games []store.Game) (store.Game, bool) {
	isPlayed := func(g store.Game) bool { return g.Open() && g.Plies > 0 }
	for _, want := range []func(store.Game) bool{isPlayed, store.Game.Open} {
		if i := slices.IndexFunc(games, want); i >= 0 {
			return games[i], true
		}
	}
	return store.Game{}, false
}

// recordKeys are the keys of a rig file without which a game's log says
// something else.
var recordKeys = []string{"board.square", "play.side"}

// Conflicts lists the keys that differ between the rig a game was begun on and
// another: those that make the game's record wrong, where the pieces stand as
// given (nil: nobody is beside the board), and the others.
func Conflicts(was, now *rig.Rig, s *places.Standing) (wrong, other []string) {
	hasBeside := s != nil && len(s.Beside) > 0
	for _, key := range rig.Changes(was, now) {
		if slices.Contains(recordKeys, key) || strings.HasPrefix(key, "removal.") && hasBeside {
			wrong = append(wrong, key)
		} else {
			other = append(other, key)
		}
	}
	return wrong, other
}
