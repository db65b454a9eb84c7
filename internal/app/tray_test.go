// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// trayRig is a machine with a tray beside each long edge.
func trayRig(t *testing.T, carried string) string {
	t.Helper()
	return write(t, filepath.Join(t.TempDir(), "tray.toml"), fixture.Tray(t, carried))
}

// Games in a row at one table, the machine setting up between them, moves
// taken back now and then.
func TestGamesInARow(t *testing.T) {
	whole(t)
	code, out, errs := cli(t, "rehearse", trayRig(t, "both"), "--games", "1", "--plies", "4", "--rematches", "1", "--faults", "second_mind", "--seed", "3", "--json")
	var sum rehearsal.Tally
	if err := json.Unmarshal([]byte(out), &sum); code != fine || err != nil {
		t.Fatalf("exit code %d, %v: %s%s", code, err, out, errs)
	}
	if sum.Games != 2 || sum.SetUps != 1 || sum.Plies-sum.TakenBack != 8 {
		t.Errorf("not two games of four plies with a set-up between: %+v", sum)
	}
	if sum.TakenBack == 0 {
		t.Error("nothing was taken back: choose another seed")
	}
	if sum.Misread+sum.LostState+sum.Collisions+sum.Stuck+sum.Slips != 0 {
		t.Errorf("the rehearsal was not clean: %+v", sum)
	}
}

// keepGame makes a store with one unfinished game.
func keepGame(t *testing.T, rigFile string, entries ...store.Entry) string {
	t.Helper()
	ctx, dir := context.Background(), t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	pos := chess.Start()
	id, err := s.Begin(ctx, store.Game{Started: time.Now(), Rig: rigFile, Machine: "black", Start: pos.FEN()})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if err := s.Append(ctx, id, e, nil); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func moves(uci ...string) (out []store.Entry) {
	for _, m := range uci {
		out = append(out, store.Entry{At: time.Now(), State: "reading", Move: m})
	}
	return out
}

// keyboard is the program with somebody at its keyboard.
type keyboard struct {
	t     *testing.T
	cmd   *exec.Cmd
	keys  io.WriteCloser
	lines chan string
	said  strings.Builder
}

func sit(t *testing.T, args ...string) *keyboard {
	t.Helper()
	k := &keyboard{t: t, cmd: exec.Command(os.Args[0]), lines: make(chan string, 1000)}
	k.cmd.Env = append(os.Environ(), "BOARDHAND_ARGS="+strings.Join(args, "\n"))
	k.cmd.Stderr = os.Stderr
	var err error
	if k.keys, err = k.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	pipe, err := k.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := k.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(k.kill)
	go func() {
		defer close(k.lines)
		for s := bufio.NewScanner(pipe); s.Scan(); {
			k.lines <- s.Text()
		}
	}()
	return k
}

// until reads lines up to one that holds the text.
func (k *keyboard) until(text string) {
	k.t.Helper()
	late := time.After(patienceFor)
	for {
		select {
		case l, ok := <-k.lines:
			k.said.WriteString(l + "\n")
			if strings.Contains(l, text) {
				return
			}
			if !ok {
				k.t.Fatalf("it ended without %q:\n%s", text, k.said.String())
			}
		case <-late:
			k.t.Fatalf("it never printed %q:\n%s", text, k.said.String())
		}
	}
}

func (k *keyboard) types(line string) {
	k.t.Helper()
	if _, err := io.WriteString(k.keys, line+"\n"); err != nil {
		k.t.Fatal(err)
	}
}

func (k *keyboard) kill() {
	_ = k.cmd.Process.Kill()
	_ = k.cmd.Wait()
}

// retoldFrom reads game n of a store.
func retoldFrom(t *testing.T, dir string, id int64) (gamelog.Retold, store.Game) {
	t.Helper()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	g, err := s.Game(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	entries, err := s.Entries(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	k, err := gamelog.Replay(g, entries)
	if err != nil {
		t.Fatal(err)
	}
	return k, g
}

func standingText(k gamelog.Retold) string {
	if k.Standing == nil {
		return "nobody beside the board"
	}
	return k.Standing.String()
}

// Killed while a captured piece is on its way to the tray, and again when it is
// there: the game knows both times who stands in which slot.
func TestKilledWithAManInTheTray(t *testing.T) {
	whole(t)
	r := trayRig(t, "both")
	dir := keepGame(t, r, append(moves("e2e4", "d7d5", "e4d5"),
		store.Entry{At: time.Now(), State: "thinking", Decided: "d8d5", Standing: "rnbqkbnr/ppp1pppp/8/3P4/8/8/PPPP1PPP/RNBQKBNR p@slot28"})...)
	play := []string{"play", r, "--games", dir, "--addr", "127.0.0.1:0", "--pace", "40", "--visitor", "--resume"}
	k := sit(t, play...)
	k.until("carrying the white pawn from d5 to slot")
	k.kill()
	got, _ := retoldFrom(t, dir, 1)
	if s := standingText(got); !strings.Contains(s, " p@slot28 P@d5>slot") {
		t.Errorf("on the way the pieces are at %s", s)
	}
	k = sit(t, play...)
	k.until("machine: Qxd5")
	k.kill()
	got, _ = retoldFrom(t, dir, 1)
	if s := standingText(got); !strings.Contains(s, "p@slot28 P@slot") || strings.Contains(s, ">") {
		t.Errorf("afterwards the pieces are at %s", s)
	}

	// Both moves are taken back, killed after the first of them.
	k = sit(t, play...)
	k.until("the board shows the position")
	k.types("back")
	k.until("taken back: Qxd5")
	k.kill()
	k = sit(t, play...)
	k.until("taken back: exd5")
	k.kill()
	got, _ = retoldFrom(t, dir, 1)
	if n := len(got.Game.Moves); n != 2 || strings.Join(got.Taken, " ") != "Qxd5 exd5" || got.Task.Kind != journal.NoTask {
		t.Errorf("%d moves are left, taken back were %v, still to do is %v", n, got.Taken, got.Task)
	}
	if s := standingText(got); s != "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR" {
		t.Errorf("taken back, the pieces are at %s", s)
	}
	if code, out, errs := cli(t, "games", "pgn", "1", "--games", dir); code != fine || !strings.Contains(out, `[TakenBack "Qxd5 exd5"]`) {
		t.Errorf("the PGN does not tell of it: %s%s", out, errs)
	}
}

// After the mate somebody types "again": the machine carries its own pieces home,
// asks once for the guest's, and the next game begins.
func TestSetUpAgainAtTheTerminal(t *testing.T) {
	whole(t)
	r := trayRig(t, "black")
	dir := keepGame(t, r, append(moves("f2f3", "e7e5", "g2g4"), store.Entry{At: time.Now(), State: "thinking", Decided: "d8h4"})...)
	play := []string{"play", r, "--games", dir, "--addr", "127.0.0.1:0", "--pace", "40", "--resume"}
	k := sit(t, play...)
	k.until("black wins by checkmate")
	k.until("The pages stay up")
	k.types("back 2 3")
	k.until("is nothing to type here")
	k.types("again")
	k.until("carrying the black queen from h4 to d8")
	k.kill()
	got, g := retoldFrom(t, dir, 1)
	if got.Task.Kind != journal.SetUp || g.Result != "0-1" {
		t.Fatalf("killed at it, the game has %q and still to do is %v", g.Result, got.Task)
	}
	k = sit(t, play...)
	k.until("game 2")
	k.until("the guest is to move")
	k.kill()
	if n := strings.Count(k.said.String(), "Please set up the white pieces for the next game."); n != 1 {
		t.Errorf("the guest was asked %d times:\n%s", n, k.said.String())
	}
	if _, g := retoldFrom(t, dir, 2); g.Result != "*" {
		t.Errorf("game 2 has %q", g.Result)
	}
}

// route plans taking back and setting up, with one request at most.
func TestRouteBackAndSetUp(t *testing.T) {
	r := trayRig(t, "black")
	const taken = "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2"
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--fen", taken, "--move", "e4d5", "--back", "--beside", "p@R9"}, "Please move the white pawn from d5 to e4."},
		{[]string{"--fen", taken, "--move", "e4d5", "--back", "--beside", "p@R9"}, "black pawn R9 to d5"},
		{[]string{"--fen", "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "--move", "e4d5", "--beside", "q@R2"}, "In the tray then: "},
		{[]string{"--fen", taken, "--move", "e4d5", "--back"}, "Please move the white pawn from d5 to e4 and put a black pawn on d5."},
		{[]string{"--fen", taken, "--setup"}, "Please set up the white pieces for the next game."},
		{[]string{"--fen", "4k3/8/8/8/8/8/8/4K3 w - - 0 1", "--setup"}, "Please set up the white pieces for the next game and stand the black pieces that are missing where they start."},
	} {
		code, out, errs := cli(t, append([]string{"route", "--rig", r}, c.args...)...)
		if code != fine || !strings.Contains(out, c.want) {
			t.Errorf("%v: exit code %d, no %q in\n%s%s", c.args, code, c.want, out, errs)
		}
		if n := strings.Count(out, "ask  "); n != 1 {
			t.Errorf("%v: %d requests, want 1:\n%s", c.args, n, out)
		}
	}
}
