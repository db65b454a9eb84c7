// SPDX-License-Identifier: Apache-2.0

package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"
)

// Begin adds a game and returns its number. It is unfinished.
func (s *Store) Begin(ctx context.Context, g Game) (int64, error) {
	g.Result, g.Reason = Unfinished, ""
	return s.Add(ctx, g, nil)
}

// Add keeps a whole game with its entries, or nothing of it, and returns its number.
// Entries are numbered from 1, and have no pictures.
func (s *Store) Add(ctx context.Context, g Game, entries []Entry) (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.guard(ctx); err != nil {
		return 0, err
	}
	err := s.write(ctx, func(tx *sql.Tx) error {
		if err := tx.QueryRow("SELECT COALESCE(MAX(id),0) FROM game").Scan(&g.ID); err != nil {
			return err
		}
		g.ID = max(g.ID, s.lastUsed()) + 1
		if err := insertGame(tx, g); err != nil {
			return err
		}
		for i := range entries {
			entries[i].N = i + 1
			if err := insertEntry(tx, g.ID, entries[i]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, fmt.Errorf("cannot write the game: %w", err)
	}
	s.played = &played{g, entries}
	s.checkpoint(ctx)
	return g.ID, nil
}

func insertGame(tx *sql.Tx, g Game) error {
	v := g.values()
	_, err := tx.Exec("INSERT INTO game(id,"+strings.Join(gameColumns, ",")+",crc) VALUES (?,?,?,?,?,?,?,?,?,?)",
		append(append([]any{g.ID}, anys(v)...), checksum(g.ID, 0, v))...)
	return err
}

func anys(v []string) (out []any) {
	for _, x := range v {
		out = append(out, x)
	}
	return out
}

// Finish writes how a game ended: its result and the reason. Unfinished with no
// reason opens it again.
func (s *Store) Finish(ctx context.Context, game int64, result, reason string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.guard(ctx); err != nil {
		return err
	}
	err := s.write(ctx, func(tx *sql.Tx) error {
		if _, err := tx.Exec("UPDATE game SET result=?, reason=? WHERE id=?", result, reason, game); err != nil {
			return err
		}
		return sumGame(tx, game)
	})
	if err != nil {
		return fmt.Errorf("cannot write the game's end: %w", err)
	}
	if s.played != nil && s.played.game.ID == game {
		s.played.game.Result, s.played.game.Reason = result, reason
	}
	s.checkpoint(ctx)
	return nil
}

// write makes one change, wholly or not at all. On a full disk pictures of
// games that are over make room, and it is tried once more.
func (s *Store) write(ctx context.Context, change func(*sql.Tx) error) error {
	err := s.try(ctx, change)
	var f *Fault
	if errors.As(err, &f) && f.Kind == Full && s.makeRoom() {
		err = s.try(ctx, change)
	}
	s.seen.follow(look(s.file))
	return err
}

func (s *Store) try(ctx context.Context, change func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return explain(s.file, err)
	}
	defer func() { _ = tx.Rollback() }()
	if err := change(tx); err != nil {
		return explain(s.file, err)
	}
	if err := tx.Commit(); err != nil {
		return explain(s.file, err)
	}
	return nil
}

// Games lists all games, newest first. A damaged one says so and hides no other.
func (s *Store) Games(ctx context.Context) ([]Game, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	ids, err := idsOf(s.db)
	if err != nil && len(ids) == 0 {
		return nil, explain(s.file, fmt.Errorf("cannot read the games: %w", err))
	}
	var out []Game
	for i := len(ids) - 1; i >= 0; i-- {
		out = append(out, s.game(ctx, ids[i]))
	}
	if err != nil {
		return out, explain(s.file, fmt.Errorf("cannot read all games: %w", err))
	}
	return out, nil
}

func (s *Store) game(ctx context.Context, id int64) Game {
	g := Game{ID: id}
	row, err := scanRow(s.db.QueryRowContext(ctx, "SELECT "+s.selected("game", gameColumns)+",crc FROM "+s.summed("game")+" WHERE id=?", id), 1+len(gameColumns))
	if err != nil {
		g.Damaged = s.damage(fmt.Sprintf("game %d", id), err)
		return g
	}
	v := texts(row[:len(gameColumns)])
	g.Rig, g.Machine, g.Start, g.Result, g.Reason, g.RigText = v[1], v[2], v[3], v[4], v[5], v[6]
	var when error
	g.Started, when = time.Parse(time.RFC3339Nano, v[0])
	err = s.db.QueryRowContext(ctx, "SELECT COUNT(CASE WHEN move <> '' THEN 1 END) - COUNT(CASE WHEN "+s.selected("entry", []string{"back"})+" <> '' THEN 1 END) FROM entry WHERE game=?", id).Scan(&g.Plies)
	switch sum, _ := row[len(gameColumns)].(int64); {
	case s.columns["game.crc"] && sum != int64(checksum(id, 0, v)):
		g.Damaged = &Damage{What: fmt.Sprintf("game %d", id), Err: errSum}
	case when != nil:
		g.Damaged = &Damage{What: fmt.Sprintf("game %d", id), Err: fmt.Errorf("%q is no date", v[0])}
	case err != nil:
		g.Damaged = s.damage(fmt.Sprintf("game %d", id), err)
	}
	return g
}

// selected are columns to read; one that an older store lacks is empty.
func (s *Store) selected(table string, columns []string) string {
	out := make([]string, len(columns))
	for i, c := range columns {
		if out[i] = c; !s.columns[table+"."+c] {
			out[i] = "''"
		}
	}
	return strings.Join(out, ",")
}

// summed is a table to read from, with a checksum in an older store too.
func (s *Store) summed(table string) string {
	if s.columns[table+".crc"] {
		return table
	}
	return "(SELECT *, -1 AS crc FROM " + table + ")"
}

// Game reads one game's heading; a damaged one is an error.
func (s *Store) Game(ctx context.Context, id int64) (Game, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	g := s.game(ctx, id)
	if errors.Is(g.Damaged, sql.ErrNoRows) {
		return Game{}, fmt.Errorf("there is no game %d; `boardhand games` lists them", id)
	}
	return g, g.Damaged
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
