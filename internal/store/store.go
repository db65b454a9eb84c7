// SPDX-License-Identifier: Apache-2.0

// Package store keeps games on disk: an SQLite file for what happened, a folder
// of pictures and a folder of PGN files beside it. What Append has returned from
// survives a killed process and a power cut, its picture too.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"syscall"

	_ "modernc.org/sqlite" // the driver, in pure Go
)

// Store is one folder of games. Its methods may be called from any goroutine.
type Store struct {
	// Warn is told, in one sentence each, what the maker should know though the
	// game goes on: the store had to be written anew, pictures had to go. May be nil.
	Warn func(text string)
	// KeepPictures is how many bytes of pictures are kept; 0: no limit. Those of
	// the oldest games go first, those of unfinished games never.
	KeepPictures int64

	dir     string
	file    string
	reading bool   // opened to read
	scratch string // folder of a copy that is read; "": none
	columns map[string]bool

	mu       sync.Mutex
	db       *sql.DB
	lock     *os.File // held while a game is being played
	seen     identity // of the files as they were last
	played   *played  // the game written to, in memory
	pictures int64    // bytes of pictures kept, as last counted; -1: not counted
	crowded  int64    // up to so many bytes pruning would free nothing; 0: it would
}

// fileName is the store's file in its folder.
const fileName = "games.sqlite"

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
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		_ = f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
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

// warn tells the maker something while the game goes on.
func (s *Store) warn(format string, a ...any) {
	if s.Warn != nil {
		s.Warn(fmt.Sprintf(format, a...))
	}
}

// checkpoint brings what was written into the one file that people copy. It
// waits for nobody: what a reader holds back is brought in by the next one.
func (s *Store) checkpoint(ctx context.Context) {
	_, _ = s.db.ExecContext(ctx, "PRAGMA busy_timeout = 0")
	_, _ = s.db.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	_, _ = s.db.ExecContext(ctx, fmt.Sprintf("PRAGMA busy_timeout = %d", busyWait.Milliseconds()))
}

// writeFile writes a file that is there wholly or not at all, also after a power cut.
func writeFile(path string, data []byte) error {
	part := path + ".part"
	f, err := os.OpenFile(part, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(part, path)
	}
	if err != nil {
		_ = os.Remove(part)
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// syncFolder puts the names in a folder on disk.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = f.Sync()
	return errors.Join(err, f.Close())
}

// makeFolder makes a folder of the store and puts its name on disk.
func makeFolder(dir string) error {
	if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(dir))
}

// KeepPGN writes a game's PGN text beside the store, wholly or not at all.
func (s *Store) KeepPGN(game int64, text string) error {
	dir := filepath.Join(s.dir, "pgn")
	err := makeFolder(dir)
	if err == nil {
		err = writeFile(filepath.Join(dir, fmt.Sprintf("%04d.pgn", game)), []byte(text))
	}
	if err != nil {
		return explain(dir, err)
	}
	return nil
}
