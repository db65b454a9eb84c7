// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"path/filepath"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/uci/fake"
)

// kept starts a player to keep going; once says whether it fails in its first
// life only.
func kept(t *testing.T, manner string, once bool, times ...time.Duration) (*Keeper, *int) {
	t.Helper()
	t.Setenv(fake.Manner, manner)
	if once {
		t.Setenv(fake.Once, filepath.Join(t.TempDir(), "once"))
	}
	k, err := Keep(t.Context(), self(), passing(times...))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(k.Close)
	restarts := 0
	k.Restarted = func(error) { restarts++ }
	return k, &restarts
}

var (
	hung     = []time.Duration{aMove + aGrace, aGrace}
	hungAway = append(append([]time.Duration{}, hung...), hung...)
)

// A player that fails once is started again and goes on with the game.
func TestKeeperStartsAgain(t *testing.T) {
	for manner, times := range map[string][]time.Duration{fake.Hangs: hung, fake.Floods: hung, fake.Crashes: nil, fake.Closes: {-aGrace, aGrace}} {
		t.Run(manner, func(t *testing.T) {
			k, restarts := kept(t, manner, true, times...)
			g := chess.NewGame(chess.Start())
			for range 4 {
				th, err := k.Think(t.Context(), g, timed)
				if err != nil || th.Move != fake.Last(g) {
					t.Fatalf("%s, %v; want %s", th.Move, err, fake.Last(g))
				}
				if err := g.Push(th.Move); err != nil {
					t.Fatal(err)
				}
			}
			if *restarts != 1 {
				t.Errorf("%d restarts, want 1", *restarts)
			}
		})
	}
}

// A wrong answer is asked for once more, without a new start.
func TestKeeperAsksAgain(t *testing.T) {
	k, restarts := kept(t, fake.Slips, false)
	g := chess.NewGame(chess.Start())
	if th, err := k.Think(t.Context(), g, timed); err != nil || th.Move != fake.Last(g) || *restarts != 0 {
		t.Errorf("%s, %v after %d restarts", th.Move, err, *restarts)
	}
}

// A player that fails again is given up in this game, and tried in the next.
func TestKeeperGivesUp(t *testing.T) {
	for _, c := range []struct {
		manner   string
		times    []time.Duration
		restarts int
		want     string
	}{
		{fake.Hangs, hungAway, 1, "it does not answer"},
		{fake.Crashes, nil, 1, "ended by itself (exit status 7)"},
		{fake.Bare, nil, 0, "answered without a move"},
		{fake.Cheats, nil, 0, "not legal"},
	} {
		t.Run(c.manner, func(t *testing.T) {
			k, restarts := kept(t, c.manner, false, c.times...)
			g := chess.NewGame(chess.Start())
			_, err := k.Think(t.Context(), g, timed)
			checkError(t, err, []string{c.want})
			if *restarts != c.restarts {
				t.Errorf("%d restarts, want %d", *restarts, c.restarts)
			}
			t.Setenv(fake.Manner, fake.Plain)
			k.NewGame()
			if th, err := k.Think(t.Context(), g, timed); c.restarts > 0 && (err != nil || th.Move != fake.Last(g)) {
				t.Errorf("the next game: %s, %v", th.Move, err)
			}
		})
	}
}
