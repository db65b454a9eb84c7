// SPDX-License-Identifier: Apache-2.0

package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
)

// Open opens or makes the store in dir, to play on it.
func Open(dir string) (*Store, error) {
	s := &Store{dir: dir, file: filepath.Join(dir, fileName), pictures: -1}
	if err := os.MkdirAll(filepath.Join(dir, "pictures"), 0o755); err != nil {
		return nil, explain(dir, err)
	}
	if err := s.connect(); err != nil {
		return nil, err
	}
	return s, nil
}

// connect opens the store's file for writing and brings it up to date.
func (s *Store) connect() error {
	db, err := openFile(s.file, fmt.Sprintf("_pragma=busy_timeout(%d)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_txlock=immediate", busyWait.Milliseconds()))
	if err == nil {
		err = prepare(db, s.dir)
	}
	if err == nil {
		s.columns, err = columnsOf(db)
	}
	if err != nil {
		if db != nil {
			_ = db.Close()
		}
		return explain(s.file, err)
	}
	s.db, s.seen = db, look(s.file)
	return nil
}

// openFile opens a database by one connection. Its name may hold any character.
func openFile(file, query string) (*sql.DB, error) {
	name := (&url.URL{Path: filepath.Clean(file)}).EscapedPath()
	db, err := sql.Open("sqlite", "file:"+name+"?"+query)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return db, nil
}

// ErrPlaying says that another process plays on this store.
var ErrPlaying = errors.New("another boardhand is playing on this store of games; stop it, or give this one its own folder with --games")

// Claim makes this process the only one that plays on the store, until Close.
// The kernel frees the claim when the process dies in whatever way.
func (s *Store) Claim() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.claim()
}

func (s *Store) claim() error {
	f, err := os.OpenFile(s.lockFile(), os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return explain(s.dir, err)
	}
	if isOurs, err := lock(f); !isOurs {
		_ = f.Close()
		if err == nil {
			return ErrPlaying
		}
		return explain(s.dir, fmt.Errorf("cannot lock the store of games: %w", err))
	}
	if s.lock != nil {
		_ = s.lock.Close()
	}
	s.lock = f
	return nil
}

func (s *Store) lockFile() string { return filepath.Join(s.dir, "playing.lock") }

// Close writes all into the one file and frees the store.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.lock != nil {
		defer func() { _ = s.lock.Close() }()
	}
	if !s.reading {
		s.checkpoint(context.Background())
	}
	err := s.db.Close()
	if s.scratch != "" {
		_ = os.RemoveAll(s.scratch)
	}
	return err
}

// checkpoint brings what was written into the one file that people copy. It
// waits for nobody: what a reader holds back is brought in by the next one.
func (s *Store) checkpoint(ctx context.Context) {
	_, _ = s.db.ExecContext(ctx, "PRAGMA busy_timeout = 0")
	_, _ = s.db.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	_, _ = s.db.ExecContext(ctx, fmt.Sprintf("PRAGMA busy_timeout = %d", busyWait.Milliseconds()))
}
