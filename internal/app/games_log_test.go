// SPDX-License-Identifier: Apache-2.0

package app

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// What a game's log holds is printed: the game as PGN, what happened in fields
// that a program can read, and that it is whole. It is over and cannot go on.
func TestKeptGameIsPrinted(t *testing.T) {
	dir := t.TempDir()
	text := keepResigned(t, dir)
	if code, out, errs := cli(t, "games", "pgn", "1", "--games", dir); code != fine || out != text || !strings.Contains(text, "1. e4 0-1") {
		t.Errorf("games pgn prints %d %s%s", code, out, errs)
	}
	if code, _, errs := cli(t, "play", "--resume=1", "--games", dir); code != badInput || !strings.Contains(errs, "game 1 is over (0-1, resignation)") {
		t.Errorf("going on with it: %d %s", code, errs)
	}
	if code, out, errs := cli(t, "games", "check", "--games", dir); code != fine {
		t.Errorf("%d %s%s", code, out, errs)
	}
	_, out, errs := cli(t, "games", "log", "1", "--games", dir, "--json")
	lines := strings.Split(out, "\n")
	for i, want := range []string{`"detail":{"by":"guest"`, `"detail":{"squares":["e4"],"said":"What was played?","choices":["Nf6","none"]}`, `"choice":1}`} {
		if !strings.Contains(lines[i], want) {
			t.Errorf("entry %d is %s, without %s %s", i+1, lines[i], want, errs)
		}
	}
}

// keepResigned keeps a game of one move that White resigns, and returns its PGN.
func keepResigned(t *testing.T, dir string) string {
	t.Helper()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	start := chess.Start()
	l := &gamelog.Log{Store: s, Game: chess.NewGame(start), Begun: func(store.Game) {}, Warn: func(string) {},
		Heading: store.Game{Machine: "black", Start: start.FEN()}}
	m := move(t, start, "e2e4")
	if err := l.Game.Push(m); err != nil {
		t.Fatal(err)
	}
	choices := []string{"Nf6", "none"}
	for i, r := range []journal.Record{
		{State: journal.Guesting, What: journal.GuestMoved, By: journal.ByGuest, SAN: "e4", Move: m},
		{State: journal.Reading, What: journal.Questioned, Said: "What was played?", Choices: choices, Squares: []chess.Square{sq("e4")}},
		{State: journal.Reading, What: journal.Answered, Choices: choices, Choice: 1},
		{State: journal.Over, What: journal.GameEnded, Said: "black wins by resignation"},
	} {
		if i == 3 {
			if err := l.Game.Resign(chess.White); err != nil {
				t.Fatal(err)
			}
		}
		if err := l.Append(t.Context(), r); err != nil {
			t.Fatal(err)
		}
	}
	g, err := s.Game(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	k, err := gamelog.Tell(t.Context(), s, g)
	if err != nil {
		t.Fatal(err)
	}
	return gamelog.PGN(g, k)
}
