// SPDX-License-Identifier: Apache-2.0

package store

import (
	"bytes"
	"errors"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// writeGame writes a game of some entries.
func writeGame(t *testing.T, s *Store, notes ...string) int64 {
	t.Helper()
	id, err := s.Begin(t.Context(), Game{Started: time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC), Rig: "rig.toml", RigText: "[board]\n", Machine: "black", Start: start})
	if err != nil {
		t.Fatal(err)
	}
	for k, n := range notes {
		at := time.Date(2026, 3, 4, 5, 6, 8+k, 0, time.UTC)
		if err := s.Append(t.Context(), id, Entry{At: at, State: "reading", Move: "e2e4", Note: n, Detail: `{"said":"` + n + `"}`}, nil); err != nil {
			t.Fatal(err)
		}
	}
	return id
}

// Any single bit that is wrong in the file is noticed, or changes nothing that
// is read back.
func TestBitFlips(t *testing.T) {
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		writeGame(t, s, "a note of some length", "and another one")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(filepath.Join(dir, fileName))
	if err != nil {
		t.Fatal(err)
	}
	want := readAll(t, dir)
	seed := int64(7)
	rng := rand.New(rand.NewSource(seed))
	noticed := 0
	for range 400 {
		// Pages that are in use but empty take most of the file: aim at what is written.
		at := rng.Intn(len(whole))
		for whole[at] == 0 {
			at = rng.Intn(len(whole))
		}
		bit := byte(1) << rng.Intn(8)
		flipped := bytes.Clone(whole)
		flipped[at] ^= bit
		other := t.TempDir()
		if err := os.WriteFile(filepath.Join(other, fileName), flipped, 0o600); err != nil {
			t.Fatal(err)
		}
		if got := readAll(t, other); strings.Contains(got, "damaged") || strings.Contains(got, "cannot") {
			noticed++
		} else if got != want {
			t.Errorf("seed %d: bit %#x of byte %d changes what is read, unnoticed:\n%s\nnot\n%s", seed, bit, at, got, want)
		}
	}
	if noticed < 100 {
		t.Errorf("only %d of 400 flips were noticed: the test aims at nothing", noticed)
	}
}

// readAll is all that can be read of a store, with what is said of damage.
func readAll(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	s, _, err := OpenToRead(dir)
	if err != nil {
		return "cannot: " + err.Error()
	}
	defer func() { _ = s.Close() }()
	if err := s.Intact(t.Context()); err != nil {
		b.WriteString("damaged: " + err.Error() + "\n")
	}
	games, err := s.Games(t.Context())
	if err != nil {
		b.WriteString("cannot: " + err.Error() + "\n")
	}
	for _, g := range games {
		b.WriteString(strings.Join(g.values(), "|") + "\n")
		if g.Damaged != nil {
			b.WriteString(g.Damaged.Error() + "\n")
		}
		entries, err := s.Entries(t.Context(), g.ID)
		if err != nil {
			b.WriteString("damaged: " + err.Error() + "\n")
		}
		for _, e := range entries {
			b.WriteString(strings.Join(e.values(), "|") + "\n")
			if e.Damaged != nil {
				b.WriteString(e.Damaged.Error() + "\n")
			}
		}
	}
	return b.String()
}

// A bad date or a changed text is named and hides neither the other games nor
// the other entries.
func TestDamageIsNamed(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	for range 3 {
		writeGame(t, s, "one", "two")
	}
	_ = s.Close()
	s = open(t, dir)
	mustExec(t, s.db, "UPDATE game SET started='yesterday' WHERE id=2")
	mustExec(t, s.db, "UPDATE entry SET note='other' WHERE game=3 AND n=1")
	games, err := s.Games(t.Context())
	if err != nil || len(games) != 3 {
		t.Fatalf("%d games, %v", len(games), err)
	}
	if games[0].Damaged != nil || games[2].Damaged != nil {
		t.Errorf("sound games are called damaged: %v, %v", games[0].Damaged, games[2].Damaged)
	}
	var d *Damage
	if !errors.As(games[1].Damaged, &d) || d.What != "game 2" || games[1].Open() {
		t.Errorf("the bad date gave %v", games[1].Damaged)
	}
	es, err := s.Entries(t.Context(), 3)
	if err != nil || len(es) != 2 || es[1].Damaged != nil {
		t.Fatalf("%+v, %v", es, err)
	}
	if !errors.As(es[0].Damaged, &d) || d.What != "game 3, entry 1" {
		t.Errorf("the changed note gave %v", es[0].Damaged)
	}
	if err := s.Append(t.Context(), 3, Entry{State: "reading"}, nil); err == nil || !strings.Contains(err.Error(), "game 3, entry 1") {
		t.Errorf("going on with a damaged game gave %v", err)
	}
}
