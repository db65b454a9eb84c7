// SPDX-License-Identifier: Apache-2.0

package store

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// schema is created on first use. Times are RFC 3339 text in UTC.
const schema = `
CREATE TABLE IF NOT EXISTS game (
	id INTEGER PRIMARY KEY,
	started TEXT NOT NULL,
	rig TEXT NOT NULL,                  -- path of the rig file
	machine TEXT NOT NULL,              -- the machine's side
	start TEXT NOT NULL,                -- FEN
	result TEXT NOT NULL DEFAULT '*',
	reason TEXT NOT NULL DEFAULT '',
	rig_text TEXT NOT NULL DEFAULT '',  -- of the rig file when the game began
	rig_sha256 TEXT NOT NULL DEFAULT '',
	crc INTEGER NOT NULL DEFAULT -1     -- CRC-32C of the other columns
);
CREATE TABLE IF NOT EXISTS entry (
	game INTEGER NOT NULL REFERENCES game(id),
	n INTEGER NOT NULL,
	at TEXT NOT NULL,
	state TEXT NOT NULL,
	move TEXT NOT NULL DEFAULT '',     -- UCI, when the entry finishes a move
	decided TEXT NOT NULL DEFAULT '',  -- UCI, when the machine has chosen a move
	note TEXT NOT NULL DEFAULT '',     -- prose, for people
	picture TEXT NOT NULL DEFAULT '',  -- file name
	back TEXT NOT NULL DEFAULT '',     -- UCI, when the entry takes a move back
	task TEXT NOT NULL DEFAULT '',     -- a task begun, got on with or ended ("none")
	standing TEXT NOT NULL DEFAULT '', -- where the pieces are, when one beside the board changed
	event TEXT NOT NULL DEFAULT '',    -- what happened, by its name
	detail TEXT NOT NULL DEFAULT '',   -- what belongs to the event, as JSON
	crc INTEGER NOT NULL DEFAULT -1,   -- CRC-32C of the other columns
	PRIMARY KEY (game, n)
) WITHOUT ROWID;`

// version of the schema, in SQLite's user_version.
const version = 3

// added are the columns that came with versions 2 and 3, by table.
var added = []struct{ table, column, kind string }{
	{"entry", "back", "TEXT NOT NULL DEFAULT ''"},
	{"entry", "task", "TEXT NOT NULL DEFAULT ''"},
	{"entry", "standing", "TEXT NOT NULL DEFAULT ''"},
	{"entry", "event", "TEXT NOT NULL DEFAULT ''"},
	{"entry", "detail", "TEXT NOT NULL DEFAULT ''"},
	{"entry", "crc", "INTEGER NOT NULL DEFAULT -1"},
	{"game", "rig_text", "TEXT NOT NULL DEFAULT ''"},
	{"game", "rig_sha256", "TEXT NOT NULL DEFAULT ''"},
	{"game", "crc", "INTEGER NOT NULL DEFAULT -1"},
}

// prepare makes a new store's tables and brings an old one's up to date, all or
// nothing. A store without tables is new only if no game left pictures beside
// it: its games would write over them.
func prepare(db *sql.DB, dir string) error {
	have, err := versionOf(db)
	if err != nil || have == version {
		return err
	}
	if have == 0 {
		if left, err := os.ReadDir(filepath.Join(dir, "pictures")); err == nil && len(left) > 0 {
			return errEmptied
		}
	}
	tx, err := db.Begin() // immediate: no two processes do this at once
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	if _, err := tx.Exec(schema); err != nil {
		return err
	}
	if have > 0 {
		if err := upgrade(tx); err != nil {
			return fmt.Errorf("cannot bring the store of games up to date: %w", err)
		}
	}
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil {
		return err
	}
	return tx.Commit()
}

// errEmptied says that games were kept in a store that is empty now.
var errEmptied = errors.New("it holds no games, but pictures of games lie beside it; put a copy of the file in its place, or name another folder with --games")

// errNewer says that a later program wrote the store.
type errNewer int

func (v errNewer) Error() string {
	return fmt.Sprintf("written by a newer boardhand (store version %d, this one knows %d); update boardhand", int(v), version)
}

// versionOf is the store's version; 0: it has no tables yet.
func versionOf(db *sql.DB) (have int, err error) {
	if err := db.QueryRow("PRAGMA user_version").Scan(&have); err != nil {
		return 0, err
	}
	if have > version {
		return have, errNewer(have)
	}
	return have, nil
}

// upgrade adds the columns that an older store lacks and the checksums of what
// it holds.
func upgrade(tx *sql.Tx) error {
	for _, c := range added {
		_, err := tx.Exec("ALTER TABLE " + c.table + " ADD COLUMN " + c.column + " " + c.kind)
		if err != nil && !strings.Contains(err.Error(), "duplicate column") {
			return err
		}
	}
	games, err := idsOf(tx)
	if err != nil {
		return err
	}
	for _, id := range games {
		if err := sumGame(tx, id); err != nil {
			return err
		}
		if err := sumEntries(tx, id); err != nil {
			return err
		}
	}
	return nil
}

// querier is a database or a transaction.
type querier interface {
	Query(query string, args ...any) (*sql.Rows, error)
	QueryRow(query string, args ...any) *sql.Row
	Exec(query string, args ...any) (sql.Result, error)
}

// idsOf lists the games, oldest first.
func idsOf(q querier) (ids []int64, err error) {
	rows, err := q.Query("SELECT id FROM game ORDER BY id")
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return ids, err
		}
		ids = append(ids, id)
	}
	return ids, rows.Err()
}

// sumEntries writes the checksums of a game's entries.
func sumEntries(q querier, game int64) error {
	rows, err := q.Query("SELECT n,"+strings.Join(entryColumns, ",")+" FROM entry WHERE game=?", game)
	if err != nil {
		return err
	}
	sums := map[int64]uint32{}
	for rows.Next() {
		row, err := scanRow(rows, 1+len(entryColumns))
		if err != nil {
			_ = rows.Close()
			return err
		}
		n, _ := row[0].(int64)
		sums[n] = checksum(game, n, texts(row[1:]))
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	for n, sum := range sums {
		if _, err := q.Exec("UPDATE entry SET crc=? WHERE game=? AND n=?", sum, game, n); err != nil {
			return err
		}
	}
	return nil
}

// sumGame writes the checksum of a game's heading.
func sumGame(q querier, id int64) error {
	row, err := scanRow(q.QueryRow("SELECT "+strings.Join(gameColumns, ",")+" FROM game WHERE id=?", id), len(gameColumns))
	if err != nil {
		return err
	}
	_, err = q.Exec("UPDATE game SET crc=? WHERE id=?", checksum(id, 0, texts(row)), id)
	return err
}

// columnsOf lists the columns of the store as "table.column".
func columnsOf(db *sql.DB) (map[string]bool, error) {
	out := map[string]bool{}
	for _, table := range []string{"game", "entry"} {
		rows, err := db.Query("SELECT name FROM pragma_table_info('" + table + "')")
		if err != nil {
			return nil, err
		}
		for rows.Next() {
			var name string
			if err := rows.Scan(&name); err != nil {
				_ = rows.Close()
				return nil, err
			}
			out[table+"."+name] = true
		}
		if err := errors.Join(rows.Err(), rows.Close()); err != nil {
			return nil, err
		}
	}
	return out, nil
}
