// SPDX-License-Identifier: Apache-2.0

package records

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
)

// added writes a PGN file, brings it in, and returns the folder and what was said.
func added(t *testing.T, text string) (dir, said, complained string, err error) {
	t.Helper()
	dir = t.TempDir()
	file := filepath.Join(dir, "club.pgn")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, bad bytes.Buffer
	err = AddGames(t.Context(), &terminal.Out{W: &out, Err: &bad}, dir, file)
	return dir, out.String(), bad.String(), err
}

// The sample game of the PGN standard (from memory of the public record) comes out of
// the store, byte for byte, as it went in: it is in export format.
func TestAddedGamesAreExportedAsTheyWere(t *testing.T) {
	sample, err := os.ReadFile("../chess/testdata/sample.pgn")
	if err != nil {
		t.Fatal(err)
	}
	set := `[Event "A study"]
[Site "?"]
[Date "2025.02.03"]
[Round "?"]
[White "One"]
[Black "Other"]
[Result "1-0"]
[FEN "4k3/P7/8/8/8/8/8/4K3 w - - 5 12"]
[SetUp "1"]

12. a8=Q+ Kd7 1-0

`
	dir, said, complained, err := added(t, string(sample)+set)
	if err != nil || complained != "" || !strings.HasSuffix(said, "game 2: One – Other, 2 plies, 1-0\n") {
		t.Fatalf("%v; %s%s", err, said, complained)
	}
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	for id, want := range map[int64]string{1: string(sample), 2: set} {
		g, err := s.Game(t.Context(), id)
		if err != nil {
			t.Fatal(err)
		}
		k, err := gamelog.Tell(t.Context(), s, g)
		if got := gamelog.PGN(g, k); err != nil || got != want {
			t.Errorf("game %d: %v\n%s\nwant\n%s", id, err, got, want)
		}
		if f := gamelog.Check(t.Context(), s, g); len(f.Problems) > 0 {
			t.Errorf("game %d: %v", id, f.Problems)
		}
	}
	games, err := s.Games(t.Context())
	if err != nil || len(games) != 2 || games[0].Plies != 2 || games[0].Started.Format("2006-01-02") != "2025-02-03" || len(gamelog.Played(games)) != 0 {
		t.Errorf("%v, %v", games, err)
	}
	if g, ok := gamelog.Latest(t.Context(), s, games); ok {
		t.Errorf("game %d would be gone on with", g.ID)
	}
}

// What cannot be read, or could not go on by the rules, is passed over with its
// place, and the rest is kept.
func TestAddingGoesOnAfterAnError(t *testing.T) {
	shuffle := strings.Repeat("Nf3 Nf6 Ng1 Ng8 ", 5)
	dir, _, complained, err := added(t, `[Event "a"]

1. e4 e4 *

[Event "b"]

1. d4 *

[Event "c"]

`+shuffle+`*
`)
	if !errors.Is(err, terminal.ErrNo) {
		t.Errorf("the answer is %v", err)
	}
	for _, want := range []string{"game 1, line 3: ", "game 3, line 9: ", "fivefold repetition", "2 of 3 games not added"} {
		if !strings.Contains(complained, want) {
			t.Errorf("nobody said %q: %s", want, complained)
		}
	}
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	if games, err := s.Games(t.Context()); err != nil || len(games) != 1 || games[0].Open() {
		t.Errorf("%v, %v", games, err)
	}
}

func TestAddRefuses(t *testing.T) {
	if _, _, _, err := added(t, "\n"); err == nil || !strings.Contains(err.Error(), "no game in this file") {
		t.Errorf("an empty file: %v", err)
	}
	if err := AddGames(context.Background(), &terminal.Out{}, t.TempDir(), "nowhere.pgn"); err == nil || !strings.Contains(err.Error(), "cannot read") {
		t.Errorf("no file: %v", err)
	}
}
