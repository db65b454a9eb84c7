// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/store"
	"boardhand/internal/store/damage"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/terminal"
)

// keepGames makes a store of games, each of so many plies; a negative number is
// that of a game that is over.
func keepGames(t *testing.T, plies ...int) string {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	start := chess.Start()
	line := []string{"e2e4", "e7e5", "g1f3", "b8c6", "f1b5"}
	for _, n := range plies {
		id, err := s.Begin(t.Context(), store.Game{Started: time.Date(2026, 3, 4, 20, 0, 0, 0, time.UTC), RigText: rig.DefaultText, Machine: "black", Start: start.FEN()})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range line[:max(n, -n)] {
			e := store.Entry{At: time.Date(2026, 3, 4, 20, 1, 0, 0, time.UTC), State: "guest", Move: m, Note: "played " + m, Event: "guest_moved", Detail: `{"move":"` + m + `"}`}
			if err := s.Append(t.Context(), id, e, []byte("jpeg")); err != nil {
				t.Fatal(err)
			}
		}
		if n < 0 {
			if err := s.Finish(t.Context(), id, "1-0", "resignation"); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dir
}

// The list has a head row, and a damaged game hides no other.
func TestGamesList(t *testing.T) {
	dir := keepGames(t, 3, -2, 0)
	damage.Do(t, dir, "UPDATE game SET started='yesterday' WHERE id=2")
	code, out, errs := cli(t, "games", "--games", dir)
	lines := strings.Split(out, "\n")
	if code != fine || !strings.HasPrefix(lines[0], "game  begun") || !strings.Contains(lines[2], "game 2 is damaged") || !strings.Contains(lines[3], "unfinished") {
		t.Errorf("%d %s%s", code, out, errs)
	}
	if !strings.Contains(out, "Go on with game 1:") {
		t.Errorf("the unfinished game with moves is not offered:\n%s", out)
	}
}

func TestGamesCheck(t *testing.T) {
	dir := keepGames(t, 3, -2, 1)
	code, out, errs := cli(t, "games", "check", "--games", dir)
	if code != fine || strings.Count(out, "whole") != 4 || !strings.Contains(out, "game 1: whole, 3 plies, 3 entries, 3 pictures") || !strings.Contains(out, "game 3: whole, 1 ply, 1 entry, 1 picture") {
		t.Errorf("a whole store: %d %s%s", code, out, errs)
	}
	damage.Do(t, dir, "UPDATE entry SET note='other' WHERE game=1 AND n=2")
	damage.Do(t, dir, "UPDATE game SET start='8/8' WHERE id=2")
	code, out, _ = cli(t, "games", "check", "--games", dir)
	for _, want := range []string{"game 1, entry 2 is damaged", "game 2 is damaged", "game 3: whole"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if code != no {
		t.Errorf("exit code %d", code)
	}
	code, out, errs = cli(t, "games", "pgn", "1", "--games", dir)
	if code != badInput || !strings.Contains(out, "1. e4 *") || !strings.Contains(errs, "game 1, entry 2 is damaged") {
		t.Errorf("PGN of a damaged game: %d %s%s", code, out, errs)
	}
}

func TestGamesLog(t *testing.T) {
	dir := keepGames(t, 2)
	code, out, errs := cli(t, "games", "log", "1", "--games", dir)
	if code != fine || !strings.Contains(out, time.Date(2026, 3, 4, 20, 1, 0, 0, time.UTC).Local().Format("2006-01-02 15:04:05")) || !strings.Contains(out, "played e2e4") {
		t.Errorf("%d %s%s", code, out, errs)
	}
	_, out, _ = cli(t, "games", "log", "1", "--games", dir, "--json")
	var l struct {
		Event  string
		Detail struct{ Move string }
	}
	first, _, _ := strings.Cut(out, "\n")
	if err := json.Unmarshal([]byte(first), &l); err != nil || l.Event != "guest_moved" || l.Detail.Move != "e2e4" {
		t.Errorf("%s: %v", first, err)
	}
}

// Pruning takes the pictures of games that are over, and no game.
func TestGamesPrune(t *testing.T) {
	dir := keepGames(t, 2, -2, -3)
	code, out, errs := cli(t, "games", "prune", "--keep-pictures", "22 B", "--games", dir)
	if code != fine || !strings.Contains(out, "removed the pictures of 1 game: 8 B; 20 B of pictures are left") {
		t.Errorf("%d %s%s", code, out, errs)
	}
	for n, want := range []bool{true, false, true} {
		_, err := os.Stat(filepath.Join(dir, "pictures", fmt.Sprintf("%04d", n+1)))
		if (err == nil) != want {
			t.Errorf("pictures of game %d: %v", n+1, err)
		}
	}
	for _, bad := range []string{"2", "x", "-3 MB", "MB", ""} {
		if code, _, errs := cli(t, "games", "prune", "--keep-pictures="+bad, "--games", dir); code != badInput || !strings.Contains(errs, "size with its unit") {
			t.Errorf("%q gave %d %s", bad, code, errs)
		}
	}
}

// A start that fails leaves no game, and hides none.
func TestPlayThatFailsLeavesNoGame(t *testing.T) {
	dir := keepGames(t, 3)
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = taken.Close() }()
	for _, args := range [][]string{{"--addr", taken.Addr().String()}, {"--addr", "nowhere"}, {"--addr", "127.0.0.1:0", "--player", "uci:/nowhere/player"},
		{"--plies", "-5"}, {"--resume=7"}, {"--resume=x"}, {"--resume", "3"}, {"--resume", "--continue"}} {
		if code, out, errs := cli(t, append([]string{"play", "--games", dir}, args...)...); code != badInput || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: %d %s%s", args, code, out, errs)
		}
	}
	_, out, _ := cli(t, "games", "--games", dir)
	if strings.Count(out, "plies") != 1 || !strings.Contains(out, "Go on with game 1") || strings.Contains(out, "\n   2 ") {
		t.Errorf("the games are now\n%s", out)
	}
}

// On another board the game is not gone on with; other changes are said.
func TestResumeOnAnotherRig(t *testing.T) {
	dir := keepGames(t, 1)
	for _, c := range []struct{ from, to, want string }{
		{`square = "40 mm"`, `square = "41 mm"`, "board.square changed since game 1 began"},
		{`side = "black"`, `side = "white"`, "play.side changed since game 1 began"},
	} {
		file := write(t, filepath.Join(t.TempDir(), "rig.toml"), strings.Replace(rig.DefaultText, c.from, c.to, 1))
		if code, _, errs := cli(t, "play", file, "--games", dir, "--addr", "127.0.0.1:0", "--resume"); code != badInput || !strings.Contains(errs, c.want) {
			t.Errorf("%s: %d %s", c.to, code, errs)
		}
	}
	if code, out, errs := cli(t, "games", "rig", "1", "--games", dir); code != fine || out != rig.DefaultText {
		t.Errorf("games rig: %d %d bytes %s", code, len(out), errs)
	}
}

// What a changed rig file means for a game that is gone on with.
func TestSameRig(t *testing.T) {
	change := func(from, to string) string {
		if !strings.Contains(rig.DefaultText, from) {
			t.Fatalf("the default rig has no %s", from)
		}
		return strings.Replace(rig.DefaultText, from, to, 1)
	}
	tray := gamelog.Retold{Past: journal.Past{Standing: &places.Standing{Beside: []places.Beside{{}}}}}
	for _, c := range []struct {
		name    string
		now     string // the rig file
		machine string // the machine's side in the game
		k       gamelog.Retold
		refused string
		said    string
	}{
		{"the same", rig.DefaultText, "black", gamelog.Retold{}, "", ""},
		{"the side that was asked for", rig.DefaultText, "white", gamelog.Retold{}, "", ""},
		{"another camera", change(`height = "600 mm"`, `height = "620 mm"`), "black", gamelog.Retold{}, "", "changed since game 1 began: camera.height"},
		{"another square", change(`square = "40 mm"`, `square = "41 mm"`), "black", gamelog.Retold{}, "board.square changed since game 1 began", ""},
		{"another tray, nobody in it", fixture.Tray(t, "both"), "black", gamelog.Retold{}, "", "removal.mode"},
		{"another tray", fixture.Tray(t, "both"), "black", tray, "removal.mode changed", ""},
	} {
		r, err := rig.Parse("rig.toml", []byte(c.now), rig.Machine)
		if err != nil {
			t.Fatal(c.name, err)
		}
		var said strings.Builder
		e := &session.Session{Out: &terminal.Out{W: io.Discard, Err: &said}, Rig: r, RigText: c.now}
		err = e.SameRig(store.Game{ID: 1, Machine: c.machine, RigText: rig.DefaultText}, c.k)
		switch {
		case c.refused == "" && (err != nil || e.Rig.Play.Side != c.machine):
			t.Errorf("%s: %v, the machine plays %s", c.name, err, e.Rig.Play.Side)
		case c.refused != "" && (err == nil || !strings.Contains(err.Error(), c.refused)):
			t.Errorf("%s: %v", c.name, err)
		}
		if !strings.Contains(said.String(), c.said) || c.said == "" && said.Len() > 0 {
			t.Errorf("%s: said %q", c.name, said.String())
		}
	}
}
