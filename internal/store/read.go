// SPDX-License-Identifier: Apache-2.0

package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// OpenToRead opens a store that is there and changes nothing of it. It works on
// a full disk, in a folder that may not be written and on a disk mounted
// read-only. The sentence it returns, if any, says what cannot be seen.
func OpenToRead(dir string) (s *Store, warning string, err error) {
	file := filepath.Join(dir, fileName)
	if _, err := os.Stat(file); err != nil {
		return nil, "", explain(file, err)
	}
	s = &Store{dir: dir, file: file, reading: true, pictures: -1}
	first := s.connectToRead(file, "mode=ro")
	if first == nil {
		return s, "", nil
	}
	var f *Fault
	if errors.As(first, &f) && (f.Kind == Newer || f.Kind == Malformed || f.Kind == Busy) {
		return nil, "", first
	}
	// No shared memory can be made for the -wal there.
	wal, err := os.Stat(file + "-wal")
	if err != nil || wal.Size() == 0 {
		if s.connectToRead(file, "immutable=1") == nil {
			return s, "", nil
		}
		return nil, "", first
	}
	if s.connectToCopy() == nil {
		return s, "", nil
	}
	if s.connectToRead(file, "immutable=1") == nil {
		return s, fmt.Sprintf("%s-wal cannot be read here: what happened since the last finished move is not shown", file), nil
	}
	return nil, "", first
}

// connectToRead opens a file and sees whether it is a store.
func (s *Store) connectToRead(file, query string) error {
	db, err := openFile(file, query+fmt.Sprintf("&_pragma=busy_timeout(%d)&_pragma=query_only(1)", busyWait.Milliseconds()))
	if err != nil {
		return explain(s.file, err)
	}
	if err = s.readable(db); err != nil {
		_ = db.Close()
		return explain(s.file, err)
	}
	s.db = db
	return nil
}

func (s *Store) readable(db *sql.DB) error {
	have, err := versionOf(db)
	if err != nil {
		return err
	}
	if s.columns, err = columnsOf(db); err == nil && have == 0 {
		return errEmpty
	}
	return err
}

// errEmpty says that the file holds no tables.
var errEmpty = errors.New("it holds no games")

// connectToCopy reads a copy of the file and its -wal, where there is room for one.
func (s *Store) connectToCopy() error {
	dir, err := os.MkdirTemp("", "boardhand")
	if err != nil {
		return err
	}
	to := filepath.Join(dir, fileName)
	for _, end := range []string{"", "-wal"} {
		err = errors.Join(err, copyFile(s.file+end, to+end))
	}
	if err == nil {
		err = s.connectToRead(to, "mode=ro")
	}
	s.scratch = dir
	if err != nil {
		_ = os.RemoveAll(dir)
	}
	return err
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer func() { _ = in.Close() }()
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
