// SPDX-License-Identifier: Apache-2.0

// Package store keeps games on disk: an SQLite file for what happened, a folder
// of pictures and a folder of PGN files beside it. What Append has returned from
// survives a killed process and a power cut, its picture too.
package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

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

// warn tells the maker something while the game goes on.
func (s *Store) warn(format string, a ...any) {
	if s.Warn != nil {
		s.Warn(fmt.Sprintf(format, a...))
	}
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
