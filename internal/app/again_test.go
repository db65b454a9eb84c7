// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A rehearsed game in which moves were taken back is read again from its
// pictures and its answers.
func TestWatchMovesTakenBack(t *testing.T) {
	whole(t)
	game, watch, _ := rehearsed(t, "2", "second_mind")
	text, err := os.ReadFile(filepath.Join(game, "answers.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), " back 1\n") {
		t.Fatalf("nothing was taken back; choose another seed:\n%s", text)
	}
	far := write(t, filepath.Join(t.TempDir(), "far.txt"), "frame_00001 back 3\n")
	code, _, errs := cli(t, append(watch, "--answers", far)...)
	if code != badInput || !strings.Contains(errs, "3 moves cannot be taken back, only 0 have been read") {
		t.Errorf("taking back too far got %d: %s", code, errs)
	}
}

// A game of an evening is read again from the pictures that were kept of it,
// moves taken back and all, and drawn on.
func TestGamesWatch(t *testing.T) {
	whole(t)
	dir, overlay := t.TempDir(), t.TempDir()
	k := sit(t, "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "100")
	k.until("machine: ")
	k.until("the guest is to move")
	k.types("back")
	k.until("taken back: ")
	k.until("taken back: ")
	k.until("guest: ")
	k.kill()
	game, _ := retoldFrom(t, dir, 1)
	code, out, errs := cli(t, "games", "watch", "1", "--games", dir, "--overlay", overlay, "--json")
	if code != fine {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	if got, want := movesOf(t, out), fmt.Sprint(game.Game.Moves); got != want || len(game.Taken) != 2 {
		t.Errorf("read %s, the game is %s with %v taken back\n%s", got, want, game.Taken, out)
	}
	drawn, err := os.ReadDir(overlay)
	if err != nil || len(drawn) != strings.Count(out, "\n") {
		t.Errorf("%d pictures were drawn on for\n%s (%v)", len(drawn), out, err)
	}
	withoutAll(t, dir, fmt.Sprint(game.Game.Moves))
	if code, _, errs := cli(t, "games", "watch", "2", "--games", dir); code != badInput || !strings.Contains(errs, "2") {
		t.Errorf("a game that is not there got %d: %s", code, errs)
	}
}

// withoutAll reads the game once more: a picture that was not kept and a broken
// one cost no more than themselves, for the log has what was played on them.
func withoutAll(t *testing.T, dir, moves string) {
	t.Helper()
	pictures, err := filepath.Glob(filepath.Join(dir, "pictures", "0001", "*.jpg"))
	if err != nil || len(pictures) < 6 {
		t.Fatalf("%d pictures were kept: %v", len(pictures), err)
	}
	if err := os.Remove(pictures[1]); err != nil {
		t.Fatal(err)
	}
	write(t, pictures[3], "half a picture")
	code, out, errs := cli(t, "games", "watch", "1", "--games", dir, "--json")
	if name := filepath.Base(pictures[3]); code == fine || strings.Count(errs, name+": not a picture that can be read") != 1 {
		t.Errorf("a broken picture got %d: %s", code, errs)
	}
	read := strings.Fields(strings.Trim(movesOf(t, out), "[]"))
	if strings.Contains(out, "illegal") || len(read) == 0 || !strings.HasSuffix(moves, read[len(read)-1]+"]") {
		t.Errorf("read %s, the game is %s\n%s", read, moves, out)
	}
}
