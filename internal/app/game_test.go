// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/records"
	"boardhand/internal/rehearsal"
	"boardhand/internal/store"
)

// whole skips a test of whole games in short runs: pictures under the race
// detector take ten times as long. The others run beside each other.
func whole(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("whole games are played without -short")
	}
	t.Parallel()
}

// rehearsed keeps the pictures of a short game. The rehearsal is clean, and watch reads
// the same game from its pictures. It returns their folder, how watch is called without
// answers, and what it printed.
func rehearsed(t *testing.T, seed, faults string) (game string, watch []string, out string) {
	t.Helper()
	const plies = 4
	keep := t.TempDir()
	code, out, errs := cli(t, "rehearse", "--games", "1", "--plies", strconv.Itoa(plies), "--seed", seed, "--faults", faults, "--keep", keep, "--json")
	if code != fine {
		t.Fatalf("exit code %d: %s%s", code, out, errs)
	}
	var sum rehearsal.Tally
	if err := json.Unmarshal([]byte(out), &sum); err != nil {
		t.Fatal(err)
	}
	if sum.Plies-sum.TakenBack != plies || sum.Misread+sum.LostState+sum.Collisions+sum.Stuck != 0 {
		t.Errorf("the rehearsal was not clean: %+v", sum)
	}
	game = filepath.Join(keep, "game_001")
	text, err := os.ReadFile(filepath.Join(game, "game.pgn"))
	if err != nil {
		t.Fatal(err)
	}
	watch = []string{"watch", "--rig", filepath.Join(game, "rig.toml"), "--frames", game, "--json"}
	code, out, errs = cli(t, append(slices.Clone(watch), "--answers", filepath.Join(game, "answers.txt"))...)
	if code != fine {
		t.Fatalf("watch: exit code %d: %s", code, errs)
	}
	if got, want := movesOf(t, out), movesOfPGN(t, string(text)); got != want {
		t.Errorf("watch read %s, the game was %s", got, want)
	}
	return game, watch, out
}

func movesOfPGN(t *testing.T, text string) string {
	t.Helper()
	games, err := chess.ReadPGN(text)
	if err != nil || len(games) != 1 {
		t.Fatalf("%d games: %v", len(games), err)
	}
	return fmt.Sprint(games[0].Moves)
}

// movesOf lists the moves that watch's lines advanced by and that stayed.
func movesOf(t *testing.T, lines string) string {
	t.Helper()
	var moves []string
	s := bufio.NewScanner(strings.NewReader(lines))
	for s.Scan() {
		var l records.Line
		if err := json.Unmarshal(s.Bytes(), &l); err != nil {
			t.Fatal(err)
		}
		if moves = moves[:max(0, len(moves)-l.Back)]; l.State == "move" {
			moves = append(moves, l.Move)
		} else if l.Answered != "" && l.Answered != "0000" {
			moves = append(moves, l.Answered)
		}
	}
	return "[" + strings.Join(moves, " ") + "]"
}

// A clean run means something only if a bad machine does not give one.
func TestFaultsAreCounted(t *testing.T) {
	whole(t)
	for fault, c := range map[string]struct {
		seed string
		hurt func(rehearsal.Tally) int
	}{
		"weak_magnet": {"3", func(t rehearsal.Tally) int { return t.Slips }},
		"fast":        {"3", func(t rehearsal.Tally) int { return t.Slips + t.Stalls }},
		"wide_foot":   {"1", func(t rehearsal.Tally) int { return t.Collisions }},
	} {
		t.Run(fault, func(t *testing.T) {
			t.Parallel()
			_, out, errs := cli(t, "rehearse", "--games", "1", "--plies", "2", "--seed", c.seed, "--faults", fault, "--json")
			var sum rehearsal.Tally
			if err := json.Unmarshal([]byte(out), &sum); err != nil {
				t.Fatal(err, errs)
			}
			if c.hurt(sum) == 0 {
				t.Errorf("with %s nothing was counted: %+v", fault, sum)
			}
		})
	}
}

// The program itself, for the tests that kill it.
func TestMain(m *testing.M) {
	if spec := os.Getenv(evidenceVariable); spec != "" {
		os.Exit(playWatched(spec))
	}
	if args := os.Getenv("BOARDHAND_ARGS"); args != "" {
		os.Exit(Main(strings.Split(args, "\n"), os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// start runs the program as a process of its own and waits for a line.
func start(t *testing.T, until string, args ...string) (*exec.Cmd, string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "BOARDHAND_ARGS="+strings.Join(args, "\n"))
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	found := make(chan string, 1)
	go func() {
		var all strings.Builder
		s := bufio.NewScanner(pipe)
		for s.Scan() {
			all.WriteString(s.Text() + "\n")
			if strings.Contains(s.Text(), until) {
				found <- all.String()
				break
			}
		}
		_, _ = io.Copy(io.Discard, pipe)
	}()
	select {
	case text := <-found:
		return cmd, text
	case <-time.After(patienceFor):
		t.Fatalf("%v never printed %q", args, until)
		return nil, ""
	}
}

// Killed in the middle of carrying its first move, the program goes on with
// the same game, and the move that was decided is the one that is played.
func TestKilledInMidCarry(t *testing.T) {
	whole(t)
	dir := t.TempDir()
	cmd, _ := start(t, "carrying   decided: ", "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "20")
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	game, decided := kept(t, dir)
	if len(game.Moves) != 1 || decided == 0 {
		t.Fatalf("after the kill %d moves and decision %s are kept", len(game.Moves), decided)
	}
	code, _, errs := cli(t, "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "50", "--resume", "--leave", "--plies", "2")
	if code != fine {
		t.Fatalf("resuming: exit code %d: %s", code, errs)
	}
	if game, _ = kept(t, dir); len(game.Moves) != 2 || game.Moves[1] != decided {
		t.Errorf("after resuming the moves are %v, decided was %s", game.Moves, decided)
	}
}

func kept(t *testing.T, dir string) (*chess.Game, chess.Move) {
	t.Helper()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	ctx := context.Background()
	g, err := s.Game(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	entries, err := s.Entries(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	k, err := gamelog.Replay(g, entries)
	if err != nil {
		t.Fatal(err)
	}
	return k.Game, k.Decided
}

// The pages are up while the game is played, and a second player on the same
// folder is refused.
func TestPageAndSecondPlayer(t *testing.T) {
	dir := t.TempDir()
	_, text := start(t, "guest: ", "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "5")
	url := regexp.MustCompile(`http://[0-9.:]+/`).FindString(text)
	for path, want := range map[string]string{"": "<html", "picture": "\xff\xd8"} {
		r, err := http.Get(url + path)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(r.Body)
		_ = r.Body.Close()
		if r.StatusCode != http.StatusOK || !strings.Contains(string(body), want) {
			t.Errorf("%s%s: %s, %d bytes without %q", url, path, r.Status, len(body), want)
		}
	}
	if code, _, errs := cli(t, "play", "--games", dir, "--addr", "127.0.0.1:0"); code != badInput || !strings.Contains(errs, "another boardhand is playing") {
		t.Errorf("a second player got %d: %s", code, errs)
	}
}
