// SPDX-License-Identifier: Apache-2.0

package store

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

func open(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

func TestRoundTrip(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	s := open(t, dir)
	at := time.Date(2026, 3, 4, 5, 6, 7, 8, time.UTC)
	id, err := s.Begin(ctx, Game{Started: at, Rig: "rig.toml", Machine: "black", Start: start})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []Entry{{At: at, State: "reading", Move: "e2e4"}, {At: at, State: "thinking", Decided: "e7e5", Note: "n"}} {
		if err := s.Append(ctx, id, e, []byte("jpeg of "+e.State)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Finish(ctx, id, "1-0", "checkmate"); err != nil {
		t.Fatal(err)
	}
	_ = s.Close()

	s = open(t, dir)
	g, err := s.Game(ctx, id)
	if err != nil || g.Plies != 1 || g.Result != "1-0" || !g.Started.Equal(at) {
		t.Errorf("game came back as %+v, %v", g, err)
	}
	es, err := s.Entries(ctx, id)
	if err != nil || len(es) != 2 || es[1].Decided != "e7e5" || es[1].N != 2 {
		t.Fatalf("entries came back as %+v, %v", es, err)
	}
	b, err := os.ReadFile(filepath.Join(s.Pictures(id), es[0].Picture))
	if err != nil || string(b) != "jpeg of reading" {
		t.Errorf("picture came back as %q, %v", b, err)
	}
	if _, err := s.Game(ctx, 99); err == nil || !strings.Contains(err.Error(), "no game 99") {
		t.Errorf("a missing game gave %v", err)
	}
}

func TestOneProcessPlays(t *testing.T) {
	dir := t.TempDir()
	a, b := open(t, dir), open(t, dir)
	if err := a.Claim(); err != nil {
		t.Fatal(err)
	}
	if err := b.Claim(); !errors.Is(err, ErrPlaying) {
		t.Errorf("a second player got %v", err)
	}
	if _, err := b.Games(context.Background()); err != nil {
		t.Errorf("reading while another plays: %v", err)
	}
	_ = a.Close()
	if err := b.Claim(); err != nil {
		t.Errorf("after the first has gone: %v", err)
	}
}

func TestBrokenFiles(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "games.sqlite"), []byte(strings.Repeat("not a database ", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "games.sqlite") {
		t.Errorf("a broken file gave %v", err)
	}
	s := open(t, t.TempDir())
	if _, err := s.db.Exec("PRAGMA user_version = 7"); err != nil {
		t.Fatal(err)
	}
	if err := prepare(s.db, t.TempDir()); err == nil || !strings.Contains(err.Error(), "newer boardhand") {
		t.Errorf("a newer store gave %v", err)
	}
}

// A store that was emptied is not taken for a new one: game 1 would write over
// the pictures of game 1.
func TestEmptiedStore(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	id, err := s.Begin(t.Context(), Game{Start: "x"})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Append(t.Context(), id, Entry{Move: "e2e4"}, []byte("a picture")); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, end := range []string{"", "-wal", "-shm"} {
		_ = os.Remove(filepath.Join(dir, "games.sqlite"+end))
	}
	if err := os.WriteFile(filepath.Join(dir, "games.sqlite"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for range 2 { // the second time as the first
		if _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "pictures of games lie beside it") {
			t.Errorf("an emptied store gave %v", err)
		}
	}
}
