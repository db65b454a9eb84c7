// SPDX-License-Identifier: Apache-2.0

package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// guard looks before a write whether the store is still the one that was
// opened. If it was removed, replaced, cut off or parted from its -wal, it is
// written anew, and the game goes on.
func (s *Store) guard(ctx context.Context) error {
	if s.reading {
		return &Fault{Other, s.file, errors.New("it was opened to read only")}
	}
	if err := s.guardLock(); err != nil {
		return err
	}
	was, is := s.seen, look(s.file)
	switch {
	case is.file == inode{}:
		return s.rescue(ctx, "was removed")
	case is.file != was.file:
		return s.rescue(ctx, "was replaced by another file")
	case is.size < was.size:
		return s.rescue(ctx, "was cut off")
	case was.wal != inode{} && is.wal != was.wal:
		return s.rejoin(ctx)
	}
	return nil
}

// guardLock looks whether the file that keeps other players away is still there.
func (s *Store) guardLock() error {
	if s.lock == nil {
		return nil
	}
	info, err := s.lock.Stat()
	if err != nil {
		return explain(s.dir, err)
	}
	was, ok := inodeIn(info)
	if is, _ := inodeOf(s.lockFile()); !ok || is == was {
		return nil
	}
	if err := os.MkdirAll(s.dir, 0o755); err != nil {
		return explain(s.dir, err)
	}
	return s.claim()
}

// rejoin brings what is in a removed -wal into the file and begins a new one.
func (s *Store) rejoin(ctx context.Context) error {
	s.checkpoint(ctx)
	if err := s.reopen(); err != nil {
		return err
	}
	if !s.complete(ctx, s) {
		return s.rescue(ctx, "was parted from its -wal")
	}
	s.warn("%s-wal was removed while playing; nothing is lost, the game goes on. Leave the files of the store alone while a game is played", s.file)
	return nil
}

func (s *Store) reopen() error {
	_ = s.db.Close()
	return s.connect()
}

// complete says whether another store holds the game that is played, wholly.
func (s *Store) complete(ctx context.Context, other *Store) bool {
	if s.played == nil {
		return true
	}
	g := other.game(ctx, s.played.game.ID)
	entries, err := other.entries(ctx, s.played.game.ID)
	if err != nil || g.Damaged != nil || len(entries) != len(s.played.entries) {
		return false
	}
	for i, e := range entries {
		if e.Damaged != nil || e.sum(g.ID) != s.played.entries[i].sum(g.ID) {
			return false
		}
	}
	return true
}

// rescue writes the store anew: from the open file as long as it can be read,
// else the game that is played from memory. What lies in its place now is moved
// aside, not removed.
func (s *Store) rescue(ctx context.Context, why string) error {
	part := s.file + ".part"
	if err := os.MkdirAll(filepath.Join(s.dir, "pictures"), 0o755); err != nil {
		return explain(s.dir, err)
	}
	what := "all games are written anew"
	if err := s.copyTo(ctx, part); err != nil {
		what = "this game is written anew; the moves of the others are in the folder pgn"
		if err := s.recall(part); err != nil {
			return explain(s.file, fmt.Errorf("it %s while playing and cannot be written anew: %w", why, err))
		}
	}
	_ = s.db.Close()
	aside, err := s.replace(part)
	if err != nil {
		return explain(s.file, fmt.Errorf("it %s while playing and cannot be written anew (what was rescued is in %s): %w", why, part, err))
	}
	if err := s.connect(); err != nil {
		return err
	}
	if aside != "" {
		what += ", and what lay there is in " + aside
	}
	s.warn("%s %s while playing: %s. The game goes on", s.file, why, what)
	return nil
}

// copyTo copies the whole store as the open file has it, and looks whether it
// is whole.
func (s *Store) copyTo(ctx context.Context, part string) error {
	removeStore(part)
	if _, err := s.db.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return err
	}
	other := &Store{dir: s.dir, file: part}
	if err := other.connect(); err != nil {
		return err
	}
	whole := s.complete(ctx, other)
	if err := other.settle(); err != nil {
		return err
	}
	if !whole {
		return errors.New("the copy is not whole")
	}
	return nil
}

// recall writes the game that is played from memory to a new file.
func (s *Store) recall(part string) error {
	removeStore(part)
	db, err := openFile(part, "_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_txlock=immediate")
	if err != nil {
		return err
	}
	other := &Store{dir: s.dir, file: part, db: db}
	err = other.try(context.Background(), func(tx *sql.Tx) error {
		if _, err := tx.Exec(schema + fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil || s.played == nil {
			return err
		}
		if err := insertGame(tx, s.played.game); err != nil {
			return err
		}
		for _, e := range s.played.entries {
			if err := insertEntry(tx, s.played.game.ID, e); err != nil {
				return err
			}
		}
		return nil
	})
	return errors.Join(err, other.settle())
}

// settle closes a file that was written, with all of it on disk.
func (s *Store) settle() error {
	s.checkpoint(context.Background())
	if err := s.db.Close(); err != nil {
		return err
	}
	f, err := os.Open(s.file)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// replace puts a file in the store's place. What lay there gets the name it
// returns; a -wal that is left would be read into the new file otherwise.
func (s *Store) replace(part string) (aside string, err error) {
	name := filepath.Join(s.dir, "games.aside-"+time.Now().UTC().Format("20060102T150405.000")+".sqlite")
	for _, end := range []string{"", "-wal"} {
		switch err := os.Rename(s.file+end, name+end); {
		case err == nil:
			aside = name
		case !errors.Is(err, os.ErrNotExist):
			return "", err
		}
	}
	_ = os.Remove(s.file + "-shm")
	if err := os.Rename(part, s.file); err != nil {
		return "", err
	}
	return aside, syncFolder(s.dir)
}

func removeStore(file string) {
	for _, end := range []string{"", "-wal", "-shm"} {
		_ = os.Remove(file + end)
	}
}
