// SPDX-License-Identifier: Apache-2.0

package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Append adds an entry; jpeg, if not empty, is kept as its picture and is on
// disk before the entry that names it. When Append returns nil, both are on
// disk. A *PictureError says that only the picture is lost and the entry is on
// disk; the game may go on. After any other error the entry is not kept. Once a
// move is finished or taken back, the file games.sqlite alone holds the game.
func (s *Store) Append(ctx context.Context, game int64, e Entry, jpeg []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.guard(ctx); err != nil {
		return err
	}
	if err := s.remember(ctx, game); err != nil {
		return err
	}
	e.N, e.Picture, e.Damaged = s.nextN(), "", nil
	var lost *PictureError
	if len(jpeg) > 0 {
		e.Picture = fmt.Sprintf("%05d.jpg", e.N)
		if lost = s.keepPicture(game, e.Picture, jpeg); lost != nil {
			e.Picture = ""
		}
	}
	if err := s.write(ctx, func(tx *sql.Tx) error { return insertEntry(tx, game, e) }); err != nil {
		return err
	}
	s.played.entries = append(s.played.entries, e)
	if e.Move != "" || e.Back != "" {
		s.checkpoint(ctx)
	}
	if lost != nil {
		return lost
	}
	return nil
}

func insertEntry(tx *sql.Tx, game int64, e Entry) error {
	v := e.values()
	_, err := tx.Exec("INSERT INTO entry(game,n,"+strings.Join(entryColumns, ",")+",crc) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
		append(append([]any{game, e.N}, anys(v)...), checksum(game, int64(e.N), v))...)
	return err
}

// remember has the game that is written to in memory.
func (s *Store) remember(ctx context.Context, game int64) error {
	if s.played != nil && s.played.game.ID == game {
		return nil
	}
	g := s.game(ctx, game)
	if g.Damaged != nil {
		return fmt.Errorf("cannot write the game's log: %w", g.Damaged)
	}
	entries, err := s.entries(ctx, game)
	for _, e := range entries {
		err = errors.Join(err, e.Damaged)
	}
	if err != nil {
		return fmt.Errorf("cannot write the game's log: %w", err)
	}
	s.played = &played{g, entries}
	return nil
}

// nextN is the number of the next entry.
func (s *Store) nextN() int {
	if k := len(s.played.entries); k > 0 {
		return s.played.entries[k-1].N + 1
	}
	return 1
}

// Entries reads a game's log in order. A damaged entry says so; when the log
// cannot be read any further, what was read comes with the error.
func (s *Store) Entries(ctx context.Context, game int64) ([]Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.entries(ctx, game)
}

func (s *Store) entries(ctx context.Context, game int64) ([]Entry, error) {
	what := fmt.Sprintf("the log of game %d", game)
	rows, err := s.db.QueryContext(ctx, "SELECT n,crc,"+s.selected("entry", entryColumns)+" FROM "+s.summed("entry")+" WHERE game=? ORDER BY n", game)
	if err != nil {
		return nil, s.damage(what, err)
	}
	defer func() { _ = rows.Close() }()
	var out []Entry
	for rows.Next() {
		row, err := scanRow(rows, 2+len(entryColumns))
		if err != nil {
			return out, s.damage(what, err)
		}
		out = append(out, s.entryOf(game, row))
	}
	if err := rows.Err(); err != nil {
		return out, s.damage(what, err)
	}
	return out, nil
}

// entryOf makes an entry of a row: number, checksum, columns.
func (s *Store) entryOf(game int64, row []any) Entry {
	n, _ := row[0].(int64)
	sum, _ := row[1].(int64)
	v := texts(row[2:])
	e := Entry{N: int(n), State: v[1], Move: v[2], Decided: v[3], Note: v[4], Picture: v[5], Back: v[6], Task: v[7], Standing: v[8], Event: v[9], Detail: v[10]}
	var err error
	what := fmt.Sprintf("game %d, entry %d", game, n)
	if e.At, err = time.Parse(time.RFC3339Nano, v[0]); err != nil {
		e.Damaged = &Damage{What: what, Err: fmt.Errorf("%q is no date", v[0])}
	}
	if s.columns["entry.crc"] && sum != int64(checksum(game, n, v)) {
		e.Damaged = &Damage{What: what, Err: errSum}
	}
	return e
}

// damage explains why a part of the store cannot be read.
func (s *Store) damage(what string, err error) error {
	if errors.Is(err, sql.ErrNoRows) || errors.Is(err, context.Canceled) {
		return err
	}
	var f *Fault
	if errors.As(explain(s.file, err), &f) && f.Kind != Malformed {
		return f
	}
	return &Damage{What: what, Err: err}
}

// Intact has the whole file checked: its pages, and that each row is where the
// others say.
func (s *Store) Intact(ctx context.Context) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	var said string
	if err := s.db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&said); err != nil {
		return explain(s.file, err)
	}
	if said != "ok" {
		return &Damage{What: s.file, Err: errors.New(said)}
	}
	// An entry whose game's number was changed would otherwise just be gone
	// from its game: nobody reads the entries of a game that is not there.
	var game, n int64
	switch err := s.db.QueryRowContext(ctx, "SELECT game, n FROM entry WHERE game NOT IN (SELECT id FROM game) LIMIT 1").Scan(&game, &n); {
	case errors.Is(err, sql.ErrNoRows):
		return nil
	case err != nil:
		return explain(s.file, err)
	}
	return &Damage{What: s.file, Err: fmt.Errorf("entry %d is of game %d, which is not there", n, game)}
}
