// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"syscall"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// FaultKind is why a store cannot be read or written.
type FaultKind string

// The kinds of fault.
const (
	Full       FaultKind = "full"          // no room on the disk
	ReadOnly   FaultKind = "read_only"     // the disk, or the folder on it, cannot be written
	Forbidden  FaultKind = "no_permission" // this user may not
	Malformed  FaultKind = "malformed"     // the file is not a whole store
	Newer      FaultKind = "newer"         // written by a later program
	Busy       FaultKind = "busy"          // another program is writing and does not end
	DiskFailed FaultKind = "disk_failed"   // the disk reports errors
	Missing    FaultKind = "missing"       // there is no store
	Other      FaultKind = "other"
)

// Fault says what is wrong with a store and what to do.
type Fault struct {
	Kind FaultKind
	File string
	Err  error
}

// remedy says for each kind what is the matter and what to do.
var remedy = map[FaultKind]string{
	Full:       "the disk is full; make room on it (`boardhand games prune` removes old pictures), then go on with `boardhand play --resume`",
	ReadOnly:   "the disk is mounted read-only; the games on it can be read but not written: mount it for writing, or play on another folder with --games",
	Forbidden:  "this user may not write here; give it the right to write to the folder and to the files in it, or name another folder with --games",
	Malformed:  "the file is damaged; keep it and what lies beside it, `boardhand games check` says which games are whole, and the folder pgn has the moves of each. To play, put a copy in its place or name another folder with --games",
	Newer:      "",
	Busy:       "another program is writing to it; end that one, then try again",
	DiskFailed: "the disk reports errors; copy the folder of games to another disk, and name it with --games",
	Missing:    "no games are kept here; `boardhand play` keeps them, --games names another folder",
	Other:      "",
}

func (f *Fault) Error() string {
	switch text := remedy[f.Kind]; {
	case text == "":
		return fmt.Sprintf("%s: %v", f.File, f.Err)
	case f.Kind == Missing:
		return fmt.Sprintf("%s: %s", filepath.Dir(f.File), text)
	default:
		return fmt.Sprintf("%s: %s (%v)", f.File, text, f.Err)
	}
}

func (f *Fault) Unwrap() error { return f.Err }

// explain finds out what an error of the database or of the disk means.
func explain(file string, err error) error {
	var have *Fault
	var newer errNewer
	if err == nil || errors.As(err, &have) {
		return err
	}
	switch {
	case errors.As(err, &newer):
		return &Fault{Newer, file, err}
	case errors.Is(err, errEmptied):
		return &Fault{Other, file, err}
	}
	return &Fault{kindOf(file, err), file, err}
}

// kindOf tells the kinds apart, by the error and by what the disk says.
func kindOf(file string, err error) FaultKind {
	var q *sqlite.Error
	code := 0
	if errors.As(err, &q) {
		code = q.Code() & 0xff
	}
	readOnly, forbidden, full := disk(file)
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG), code == sqlite3.SQLITE_FULL:
		return Full
	case errors.Is(err, syscall.EROFS), readOnly && writing(code):
		return ReadOnly
	case errors.Is(err, fs.ErrPermission), code == sqlite3.SQLITE_PERM, forbidden && writing(code):
		return Forbidden
	case code == sqlite3.SQLITE_CORRUPT, code == sqlite3.SQLITE_NOTADB:
		return Malformed
	case code == sqlite3.SQLITE_BUSY, code == sqlite3.SQLITE_LOCKED:
		return Busy
	case full && writing(code):
		return Full
	case errors.Is(err, syscall.EIO), code == sqlite3.SQLITE_IOERR:
		return DiskFailed
	case errors.Is(err, fs.ErrNotExist):
		return Missing
	}
	return Other
}

// writing says whether a code of SQLite may come of a write that failed.
func writing(code int) bool {
	return code == sqlite3.SQLITE_READONLY || code == sqlite3.SQLITE_CANTOPEN || code == sqlite3.SQLITE_IOERR
}

// Free is how many bytes are free on the store's disk.
func (s *Store) Free() (int64, error) {
	return freeBytes(s.dir)
}
