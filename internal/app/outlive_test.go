// SPDX-License-Identifier: Apache-2.0

package app

import (
	"errors"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"boardhand/internal/store"
)

// entriesOf counts what is kept of game 1.
func entriesOf(t *testing.T, dir string) int {
	t.Helper()
	s, _, err := store.OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	es, err := s.Entries(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return len(es)
}

// untilMore waits until more is kept of game 1.
func untilMore(t *testing.T, dir string, than int) {
	t.Helper()
	for range 1800 {
		if entriesOf(t, dir) > than {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatal("the game does not go on")
}

func stopWith(t *testing.T, cmd *exec.Cmd, s syscall.Signal) {
	t.Helper()
	if err := cmd.Process.Signal(s); err != nil {
		t.Fatal(err)
	}
	var e *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &e) || e.ExitCode() != 128+int(s) {
		t.Errorf("%v ended it with %v", s, err)
	}
}

// A game goes on when its terminal is closed and nobody reads what it prints.
// SIGTERM and Ctrl-C end it, each with its exit code, and all is in one file.
// --continue begins a game where there is none, and then goes on with it.
func TestGameOutlivesItsTerminal(t *testing.T) {
	whole(t)
	dir := t.TempDir()
	args := []string{"play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "20", "--continue"}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "BOARDHAND_ARGS="+strings.Join(args, "\n"))
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	buf := make([]byte, 4096)
	for text := ""; !strings.Contains(text, "guest: "); {
		n, err := pipe.Read(buf)
		if err != nil {
			t.Fatalf("it ended: %v\n%s", err, text)
		}
		text += string(buf[:n])
	}
	_ = pipe.Close()
	if err := cmd.Process.Signal(syscall.SIGHUP); err != nil {
		t.Fatal(err)
	}
	untilMore(t, dir, entriesOf(t, dir)+2)
	stopWith(t, cmd, syscall.SIGTERM)
	if info, err := os.Stat(dir + "/games.sqlite-wal"); err == nil && info.Size() > 0 {
		t.Errorf("%d bytes are left in the -wal", info.Size())
	}

	cmd, text := start(t, "the pages:", args...)
	if !strings.Contains(text, "game 1, kept in") {
		t.Errorf("it does not go on with game 1:\n%s", text)
	}
	stopWith(t, cmd, syscall.SIGINT)
	if code, out, errs := cli(t, "games", "check", "--games", dir); code != fine || strings.Contains(out, "game 2") {
		t.Errorf("%d %s%s", code, out, errs)
	}
}
