// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
)

// Killed after the pieces were set up and before the next game has begun in
// the store: the next start begins it, with whoever stands in the tray.
func TestKilledBetweenTwoGames(t *testing.T) {
	const start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR"
	const odds = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNB1KBNR"
	for _, c := range []struct{ reason, stands, from, fen string }{
		{"", start, "", start + " w KQkq - 0 1"}, {store.Abandoned, start, "", start + " w KQkq - 0 1"},
		{"", odds, " from " + odds + " w KQkq - 0 1", odds + " w KQkq - 0 1"},
	} {
		reason := c.reason
		file := trayRig(t, "both")
		dir := keepGame(t, file, append(moves("e2e4", "e7e5"),
			store.Entry{At: time.Now(), State: "arranging", Event: "set_up_wanted", Task: "set_up white 2s" + c.from},
			store.Entry{At: time.Now(), State: "over", Event: "set_up_done", Task: "none", Standing: c.stands + " q@slot3"})...)
		s, err := store.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		if reason != "" {
			if err := s.Finish(context.Background(), 1, store.Unfinished, reason); err != nil {
				t.Fatal(err)
			}
		}
		var said, complained bytes.Buffer
		r, err := rig.Load(file, rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		e := &session.Session{Out: &terminal.Out{W: &said, Err: &complained}, Store: s, Rig: r, Options: session.Options{Games: dir, GoOn: true}}
		if err := e.Open(context.Background()); err != nil {
			t.Fatal(err)
		}
		pos := e.Game.Position()
		if e.Heading.ID != 2 || pos.FEN() != c.fen || e.Heading.Start != c.fen || e.Rig.Play.Side != "white" || e.ThinkingTime() != 2*time.Second {
			t.Errorf("with reason %q it goes on with game %d at %s, the machine %s: %s%s", reason, e.Heading.ID, pos.FEN(), e.Rig.Play.Side, &said, &complained)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		k, _ := retoldFrom(t, dir, 2)
		if got := standingText(k); !strings.HasSuffix(got, " q@slot3") {
			t.Errorf("game 2 has %s", got)
		}
		if _, g := retoldFrom(t, dir, 1); g.Reason != store.Abandoned {
			t.Errorf("game 1 is %q", g.Reason)
		}
	}
}
