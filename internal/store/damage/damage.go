// SPDX-License-Identifier: Apache-2.0

// Package damage changes kept games behind the store's back, for tests of who
// reads them.
package damage

import (
	"database/sql"
	"path/filepath"
	"testing"

	_ "modernc.org/sqlite" // the store's driver
)

// Do runs an SQL statement on the games kept in a folder.
func Do(t *testing.T, dir, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, "games.sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	if _, err := db.Exec(statement); err != nil {
		t.Fatal(err)
	}
}
