// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A picture that cannot be kept is told of by its own kind of error; the entry
// is on disk, and later pictures are kept again.
func TestPictureThatCannotBeKept(t *testing.T) {
	s := open(t, t.TempDir())
	id := writeGame(t, s)
	blocked := s.Pictures(id)
	if err := os.WriteFile(blocked, []byte("a file where the folder should be"), 0o600); err != nil {
		t.Fatal(err)
	}
	err := s.Append(t.Context(), id, Entry{State: "reading", Move: "e2e4"}, []byte("jpeg"))
	var lost *PictureError
	if !errors.As(err, &lost) || lost.Game != id {
		t.Fatalf("it gave %v", err)
	}
	_ = os.Remove(blocked)
	if err := s.Append(t.Context(), id, Entry{State: "thinking"}, []byte("jpeg")); err != nil {
		t.Fatal(err)
	}
	es, err := s.Entries(t.Context(), id)
	if err != nil || len(es) != 2 || es[0].Move != "e2e4" || es[0].Picture != "" || es[1].Picture != "00002.jpg" {
		t.Errorf("entries came back as %+v, %v", es, err)
	}
}

// Pictures go by age, those of unfinished games never, and the budget is kept
// while a game is played.
func TestPicturesKeepToTheirBudget(t *testing.T) {
	s := open(t, t.TempDir())
	var said []string
	s.Warn = func(text string) { said = append(said, text) }
	for game := int64(1); game <= 4; game++ {
		id := writeGame(t, s)
		for range 3 {
			if err := s.Append(t.Context(), id, Entry{State: "reading"}, make([]byte, 1000)); err != nil {
				t.Fatal(err)
			}
		}
		if game != 2 { // which is unfinished
			if err := s.Finish(t.Context(), id, "1-0", "checkmate"); err != nil {
				t.Fatal(err)
			}
		}
	}
	s.KeepPictures = 10_000
	id := writeGame(t, s)
	for range 3 {
		if err := s.Append(t.Context(), id, Entry{State: "reading"}, make([]byte, 1000)); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := kept(s), "0:0 1:0 2:3000 3:0 4:3000 5:3000"; got != want {
		t.Errorf("kept are %s, want %s", got, want)
	}
	if len(said) != 2 || !strings.Contains(said[0], "those of game 1 were removed") {
		t.Errorf("it said %q", said)
	}
	p, err := s.Prune(0)
	if err != nil || len(p.Games) != 1 || p.Games[0] != 4 || p.Freed != 3000 || p.Kept != 6000 {
		t.Errorf("pruning to nothing did %+v, %v", p, err)
	}
	if _, err := s.Game(t.Context(), 1); err != nil {
		t.Errorf("the game went with its pictures: %v", err)
	}
}

func kept(s *Store) string {
	_, sizes := s.pictured()
	var out []string
	for id := range int64(6) {
		out = append(out, fmt.Sprintf("%d:%d", id, sizes[id]))
	}
	return strings.Join(out, " ")
}

// Pictures of unfinished games may take more than the room: they stay, and that
// is said once.
func TestUnfinishedGamesKeepTheirPictures(t *testing.T) {
	s := open(t, t.TempDir())
	var said []string
	s.Warn = func(text string) { said = append(said, text) }
	s.KeepPictures = 1500
	id := writeGame(t, s)
	for range 4 {
		if err := s.Append(t.Context(), id, Entry{State: "reading"}, make([]byte, 1000)); err != nil {
			t.Fatal(err)
		}
	}
	if got := kept(s); !strings.Contains(got, "1:4000") {
		t.Errorf("kept are %s", got)
	}
	if len(said) != 1 || !strings.Contains(said[0], "they stay") {
		t.Errorf("it said %q", said)
	}
}

// When an older copy of the store was put back, a new game writes over nothing
// that later games left.
func TestNumbersInUse(t *testing.T) {
	s := open(t, t.TempDir())
	writeGame(t, s)
	if err := os.MkdirAll(s.Pictures(4), 0o755); err != nil {
		t.Fatal(err)
	}
	if id := writeGame(t, s); id != 5 {
		t.Errorf("after pictures of game 4 comes game %d", id)
	}
	if err := s.KeepPGN(8, "*\n"); err != nil {
		t.Fatal(err)
	}
	if id := writeGame(t, s); id != 9 {
		t.Errorf("after a PGN file of game 8 comes game %d", id)
	}
}

// Any name of a folder will do.
func TestFolderNames(t *testing.T) {
	for _, name := range []string{"q?x", "q?mode=memory", "a#b", "50%", "%41", "my games", "a&b=c", "ä:ö", "+"} {
		dir := filepath.Join(t.TempDir(), name)
		s := open(t, dir)
		writeGame(t, s, "1")
		_ = s.Close()
		if _, err := os.Stat(filepath.Join(dir, fileName)); err != nil {
			t.Errorf("%q: %v", name, err)
		}
		r, _, err := OpenToRead(dir)
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if g, err := r.Game(t.Context(), 1); err != nil || g.Plies != 1 {
			t.Errorf("%q: %+v, %v", name, g, err)
		}
		_ = r.Close()
	}
}

// A PGN file beside the store is whole, and the next one takes its place.
func TestKeepPGN(t *testing.T) {
	s := open(t, t.TempDir())
	for _, text := range []string{"1. e4 *\n", "1. e4 e5 *\n"} {
		if err := s.KeepPGN(7, text); err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(filepath.Join(s.dir, "pgn", "0007.pgn")); err != nil || string(b) != text {
			t.Errorf("%q, %v", b, err)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(s.dir, "pgn", "*.part")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}
