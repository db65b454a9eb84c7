// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What may happen to a store while a game is played on it. After each the game
// goes on, the maker is told, and after opening it again nothing is missing.
func TestStoreHarmedWhilePlaying(t *testing.T) {
	remove := func(ends ...string) func(*testing.T, string) {
		return func(t *testing.T, file string) {
			for _, end := range ends {
				_ = os.Remove(file + end)
			}
		}
	}
	for _, c := range []struct {
		name     string
		harm     func(t *testing.T, file string)
		says     string
		allGames bool // the other games are rescued too; else perhaps, if they are still in memory
	}{
		{"all removed", remove("", "-wal", "-shm"), "was removed", true},
		{"file removed", remove(""), "was removed", true},
		{"wal removed", remove("-wal"), "-wal was removed", true},
		{"wal and shm removed", remove("-wal", "-shm"), "-wal was removed", true},
		{"folder removed", func(t *testing.T, file string) { _ = os.RemoveAll(filepath.Dir(file)) }, "was removed", true},
		{"cut to nothing", func(t *testing.T, file string) { _ = os.Truncate(file, 0) }, "was cut off", false},
		{"cut to a page", func(t *testing.T, file string) { _ = os.Truncate(file, 4096) }, "was cut off", false},
		{"replaced by an empty file", func(t *testing.T, file string) {
			_ = os.Remove(file)
			_ = os.WriteFile(file, nil, 0o600)
		}, "was replaced", true},
		{"replaced by another store", func(t *testing.T, file string) {
			other := open(t, t.TempDir())
			writeGame(t, other, "another evening")
			_ = other.Close()
			_ = os.Rename(other.file, file)
		}, "was replaced", true},
	} {
		t.Run(c.name, func(t *testing.T) { harmed(t, c.harm, c.says, c.allGames) })
	}
}

func harmed(t *testing.T, harm func(*testing.T, string), says string, allGames bool) {
	dir := filepath.Join(t.TempDir(), "g")
	s := open(t, dir)
	if err := s.Claim(); err != nil {
		t.Fatal(err)
	}
	var said []string
	s.Warn = func(text string) { said = append(said, text) }
	writeGame(t, s, "an earlier game")
	id := writeGame(t, s, "1", "2")
	if err := s.Append(t.Context(), id, Entry{State: "carrying", Note: "3"}, nil); err != nil { // in the -wal
		t.Fatal(err)
	}
	harm(t, s.file)
	for i := 4; i <= 6; i++ {
		if err := s.Append(t.Context(), id, Entry{State: "carrying", Note: fmt.Sprint(i)}, []byte("jpeg")); err != nil {
			t.Fatal(err)
		}
	}
	if len(said) != 1 || !strings.Contains(said[0], says) {
		t.Errorf("it said %q, want once %q", said, says)
	}
	other := open(t, dir)
	if err := other.Claim(); !errors.Is(err, ErrPlaying) {
		t.Errorf("a second player got %v", err)
	}
	_ = other.Close()
	_ = s.Close()

	s = open(t, dir)
	if err := s.Intact(t.Context()); err != nil {
		t.Error(err)
	}
	games, err := s.Games(t.Context())
	if err != nil || games[0].ID != id || games[0].Damaged != nil || allGames && len(games) != 2 {
		t.Errorf("the games are %+v, %v", games, err)
	}
	es, err := s.Entries(t.Context(), id)
	if err != nil || len(es) != 6 {
		t.Fatalf("%d entries, %v", len(es), err)
	}
	for i, e := range es {
		if e.N != i+1 || e.Note != fmt.Sprint(i+1) || e.Damaged != nil {
			t.Errorf("entry %d came back as %+v", i+1, e)
		}
	}
}

// When the file that keeps other players away is removed, the one who plays
// puts it back; when another player was faster, he stops.
func TestLockRemoved(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	if err := s.Claim(); err != nil {
		t.Fatal(err)
	}
	id := writeGame(t, s, "1")
	_ = os.Remove(s.lockFile())
	if err := s.Append(t.Context(), id, Entry{At: time.Now()}, nil); err != nil {
		t.Fatal(err)
	}
	other := open(t, dir)
	if err := other.Claim(); !errors.Is(err, ErrPlaying) {
		t.Errorf("a second player got %v", err)
	}
	_ = os.Remove(s.lockFile())
	if err := other.Claim(); err != nil {
		t.Fatal(err)
	}
	if err := s.Append(t.Context(), id, Entry{At: time.Now()}, nil); !errors.Is(err, ErrPlaying) {
		t.Errorf("the first player got %v", err)
	}
}

// A copy of games.sqlite alone, taken in the middle of a game, holds every
// finished move.
func TestCopyHoldsTheGame(t *testing.T) {
	dir, copied := t.TempDir(), t.TempDir()
	s := open(t, dir)
	id := writeGame(t, s, "1")
	for i := 2; i <= 5; i++ {
		if err := s.Append(t.Context(), id, Entry{State: "reading", Move: "e2e4", Note: fmt.Sprint(i)}, nil); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(s.file)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(copied, fileName), data, 0o600); err != nil {
			t.Fatal(err)
		}
		r, _, err := OpenToRead(copied)
		if err != nil {
			t.Fatal(err)
		}
		if es, err := r.Entries(t.Context(), id); err != nil || len(es) != i {
			t.Errorf("after move %d the copy holds %d entries (%v)", i, len(es), err)
		}
		_ = r.Close()
	}
}

// A reader in the middle of reading neither stops nor delays the one who plays.
func TestReadingWhilePlaying(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	id := writeGame(t, s, "1")
	r, _, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	rows, err := r.db.Query("SELECT n FROM entry")
	if err != nil || !rows.Next() {
		t.Fatal(err)
	}
	for i := 2; i <= 4; i++ {
		if err := s.Append(t.Context(), id, Entry{State: "reading", Move: "e2e4", Note: fmt.Sprint(i)}, nil); err != nil {
			t.Fatal(err)
		}
	}
	_ = rows.Close()
	if es, err := r.Entries(t.Context(), id); err != nil || len(es) != 4 {
		t.Errorf("the reader sees %d entries, %v", len(es), err)
	}
}
