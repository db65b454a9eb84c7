// SPDX-License-Identifier: Apache-2.0

package store

import (
	"database/sql"
	"path/filepath"
	"testing"
	"time"
)

// The schemas of versions 1 and 2, as they were written.
const (
	gameThen   = "CREATE TABLE game (id INTEGER PRIMARY KEY, started TEXT NOT NULL, rig TEXT NOT NULL, machine TEXT NOT NULL, start TEXT NOT NULL, result TEXT NOT NULL DEFAULT '*', reason TEXT NOT NULL DEFAULT '');"
	since2Then = "back TEXT NOT NULL DEFAULT '', task TEXT NOT NULL DEFAULT '', standing TEXT NOT NULL DEFAULT '',"
)

// olderStore writes a store as an earlier version did.
func olderStore(t *testing.T, dir, columns, pragma string) {
	t.Helper()
	db, err := openFile(filepath.Join(dir, fileName), "_pragma=journal_mode(WAL)")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	mustExec(t, db, gameThen)
	mustExec(t, db, "CREATE TABLE entry (game INTEGER NOT NULL REFERENCES game(id), n INTEGER NOT NULL, at TEXT NOT NULL, state TEXT NOT NULL, move TEXT NOT NULL DEFAULT '', decided TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '', picture TEXT NOT NULL DEFAULT '', "+columns+" PRIMARY KEY (game, n)) WITHOUT ROWID;")
	mustExec(t, db, "INSERT INTO game(started,rig,machine,start) VALUES ('2026-03-04T05:06:07Z','rig.toml','black','"+start+"')")
	mustExec(t, db, "INSERT INTO entry(game,n,at,state,move,note) VALUES (1,1,'2026-03-04T05:06:08Z','reading','e2e4','guest: e4')")
	mustExec(t, db, pragma)
}

func mustExec(t *testing.T, db *sql.DB, query string) {
	t.Helper()
	if _, err := db.Exec(query); err != nil {
		t.Fatal(err)
	}
}

// Stores of versions 1 and 2 are read as they are, then brought up to date for
// play, and what was kept in them is still there, with checksums.
func TestOlderStores(t *testing.T) {
	for _, c := range []struct{ name, columns, pragma string }{
		{"version 1", "", "PRAGMA user_version = 1"},
		{"version 2", since2Then, "PRAGMA user_version = 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir, ctx := t.TempDir(), t.Context()
			olderStore(t, dir, c.columns, c.pragma)
			r, warning, err := OpenToRead(dir)
			if err != nil || warning != "" {
				t.Fatal(warning, err)
			}
			if g, err := r.Game(ctx, 1); err != nil || g.Plies != 1 || g.Machine != "black" {
				t.Errorf("read without upgrade: %+v, %v", g, err)
			}
			if es, err := r.Entries(ctx, 1); err != nil || len(es) != 1 || es[0].Move != "e2e4" || es[0].Damaged != nil {
				t.Errorf("read without upgrade: %+v, %v", es, err)
			}
			_ = r.Close()

			s := open(t, dir)
			want := Entry{At: time.Now(), State: "undoing", Back: "e2e4", Task: "none", Standing: "8/8/8/8/8/8/8/8 p@slot3", Event: "taken_back", Detail: `{"back":"e2e4"}`}
			if err := s.Append(ctx, 1, want, nil); err != nil {
				t.Fatal(err)
			}
			es, err := s.Entries(ctx, 1)
			if err != nil || len(es) != 2 || es[0].Move != "e2e4" || es[0].Note != "guest: e4" || es[0].Damaged != nil {
				t.Fatalf("entries came back as %+v, %v", es, err)
			}
			if got := es[1]; got.sum(1) != (Entry{N: 2, At: want.At, State: want.State, Back: want.Back, Task: want.Task, Standing: want.Standing, Event: want.Event, Detail: want.Detail}).sum(1) {
				t.Errorf("the new entry came back as %+v", got)
			}
			if g, err := s.Game(ctx, 1); err != nil || g.Plies != 0 {
				t.Errorf("a move taken back still counts: %+v, %v", g, err)
			}
		})
	}
}

// An upgrade that is cut off half-way leaves the old store.
func TestUpgradeIsAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	olderStore(t, dir, since2Then, "PRAGMA user_version = 2")
	db, err := openFile(filepath.Join(dir, fileName), "")
	if err != nil {
		t.Fatal(err)
	}
	mustExec(t, db, "CREATE TRIGGER no_sums BEFORE UPDATE ON entry BEGIN SELECT RAISE(FAIL, 'no more'); END")
	_ = db.Close()
	if s, err := Open(dir); err == nil {
		_ = s.Close()
		t.Fatal("the upgrade cannot have worked")
	}
	r, _, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	if have, err := versionOf(r.db); err != nil || have != 2 || r.columns["entry.event"] {
		t.Errorf("version %d with columns %v (%v)", have, r.columns, err)
	}
}
