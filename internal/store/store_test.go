package store

import (
	"context"
	"errors"
	"os"
	"os/exec"
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
	if err := prepare(s.db, ""); err == nil || !strings.Contains(err.Error(), "newer boardhand") {
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

// A child process appends moves and is killed with SIGKILL in the middle; all
// moves whose Append returned must be there.
func TestKilledWriter(t *testing.T) {
	if dir := os.Getenv("STORE_WRITER"); dir != "" {
		writeUntilKilled(t, dir)
		return
	}
	dir := t.TempDir()
	cmd := exec.Command(os.Args[0], "-test.run=^TestKilledWriter$")
	cmd.Env = append(os.Environ(), "STORE_WRITER="+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	acknowledged := 0
	buf := make([]byte, 1)
	for acknowledged < 40 {
		if _, err := out.Read(buf); err != nil {
			t.Fatal(err)
		}
		if buf[0] == '.' {
			acknowledged++
		}
	}
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	s := open(t, dir)
	if err := s.Claim(); err != nil {
		t.Errorf("the dead writer still holds the claim: %v", err)
	}
	es, err := s.Entries(context.Background(), 1)
	if err != nil || len(es) < acknowledged {
		t.Errorf("%d entries were acknowledged, %d are there (%v)", acknowledged, len(es), err)
	}
}

func writeUntilKilled(t *testing.T, dir string) {
	s := open(t, dir)
	ctx := context.Background()
	if err := s.Claim(); err != nil {
		t.Fatal(err)
	}
	id, err := s.Begin(ctx, Game{Started: time.Now(), Start: start})
	for err == nil {
		if err = s.Append(ctx, id, Entry{At: time.Now(), State: "reading", Move: "e2e4"}, []byte("x")); err == nil {
			_, _ = os.Stdout.WriteString(".")
		}
	}
}

// A store written before moves could be taken back is brought up to date, and
// what was kept in it is still there.
func TestOlderStoreIsBroughtUpToDate(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	s := open(t, dir)
	id, err := s.Begin(ctx, Game{Started: time.Now(), Machine: "black", Start: start})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Append(ctx, id, Entry{At: time.Now(), State: "reading", Move: "e2e4"}, nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range since2 {
		if _, err := s.db.Exec("ALTER TABLE entry DROP COLUMN " + c); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.db.Exec("PRAGMA user_version = 1"); err != nil {
		t.Fatal(err)
	}
	_ = s.Close()

	s = open(t, dir)
	want := Entry{At: time.Now(), State: "undoing", Back: "e2e4", Task: "none", Standing: "8/8/8/8/8/8/8/8 p@slot3"}
	if err := s.Append(ctx, id, want, nil); err != nil {
		t.Fatal(err)
	}
	es, err := s.Entries(ctx, id)
	if err != nil || len(es) != 2 || es[0].Move != "e2e4" {
		t.Fatalf("entries came back as %+v, %v", es, err)
	}
	if got := es[1]; got.Back != want.Back || got.Task != want.Task || got.Standing != want.Standing {
		t.Errorf("the new entry came back as %+v", got)
	}
	if g, err := s.Game(ctx, id); err != nil || g.Plies != 0 {
		t.Errorf("a move taken back still counts: %d plies, %v", g.Plies, err)
	}
}
