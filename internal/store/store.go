// Package store keeps games on disk: an SQLite file for what happened and a
// folder of pictures beside it. What Append has returned from survives a
// killed process and a power cut.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	_ "modernc.org/sqlite" // the driver, in pure Go
)

// Store is one folder of games.
type Store struct {
	dir  string
	db   *sql.DB
	lock *os.File // held while a game is being played
}

// schema is created on first use. Times are RFC 3339 text in UTC.
const schema = `
CREATE TABLE IF NOT EXISTS game (
	id INTEGER PRIMARY KEY,
	started TEXT NOT NULL,
	rig TEXT NOT NULL,
	machine TEXT NOT NULL,      -- the machine's side
	start TEXT NOT NULL,        -- FEN
	result TEXT NOT NULL DEFAULT '*',
	reason TEXT NOT NULL DEFAULT ''
);
CREATE TABLE IF NOT EXISTS entry (
	game INTEGER NOT NULL REFERENCES game(id),
	n INTEGER NOT NULL,
	at TEXT NOT NULL,
	state TEXT NOT NULL,
	move TEXT NOT NULL DEFAULT '',     -- UCI, when the entry finishes a move
	decided TEXT NOT NULL DEFAULT '',  -- UCI, when the machine has chosen a move
	note TEXT NOT NULL DEFAULT '',
	picture TEXT NOT NULL DEFAULT '',  -- file name
	back TEXT NOT NULL DEFAULT '',     -- UCI, when the entry takes a move back
	task TEXT NOT NULL DEFAULT '',     -- a task begun, got on with or ended ("none")
	standing TEXT NOT NULL DEFAULT '', -- where the men are, when one beside the board changed
	PRIMARY KEY (game, n)
) WITHOUT ROWID;`

// version of the schema, in SQLite's user_version.
const version = 2

// since2 are the columns that came with version 2.
var since2 = []string{"back", "task", "standing"}

// busyWait is how long a write waits for another process' write.
const busyWait = 5 * time.Second

// Open opens or makes the store in dir.
func Open(dir string) (*Store, error) {
	if err := os.MkdirAll(filepath.Join(dir, "pictures"), 0o755); err != nil {
		return nil, fmt.Errorf("cannot make the folder for games: %w", err)
	}
	file := filepath.Join(dir, "games.sqlite")
	dsn := fmt.Sprintf("file:%s?_pragma=busy_timeout(%d)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_txlock=immediate",
		file, busyWait.Milliseconds())
	db, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	db.SetMaxOpenConns(1)
	if err := prepare(db, filepath.Join(dir, "pictures")); err != nil {
		_ = db.Close()
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return &Store{dir: dir, db: db}, nil
}

// prepare makes a new store's tables and brings an old one's up to date. A store
// without tables is new only if no game left pictures beside it: its games would
// write over them.
func prepare(db *sql.DB, pictures string) error {
	var have int
	if err := db.QueryRow("PRAGMA user_version").Scan(&have); err != nil {
		return fmt.Errorf("not a readable store of games; put a copy in its place, or name another folder (its pictures stay): %w", err)
	}
	if have > version {
		return fmt.Errorf("written by a newer boardhand (store version %d, this one knows %d); update boardhand", have, version)
	}
	if have == 0 {
		if left, err := os.ReadDir(pictures); err == nil && len(left) > 0 {
			return errors.New("it holds no games, but pictures of games lie beside it; put a copy of the file in its place, or name another folder with --games")
		}
	}
	if _, err := db.Exec(schema); err != nil {
		return err
	}
	if have == 1 {
		for _, c := range since2 {
			if _, err := db.Exec("ALTER TABLE entry ADD COLUMN " + c + " TEXT NOT NULL DEFAULT ''"); err != nil && !strings.Contains(err.Error(), "duplicate column") {
				return fmt.Errorf("cannot bring the store of games up to date: %w", err)
			}
		}
	}
	_, err := db.Exec(fmt.Sprintf("PRAGMA user_version = %d", version))
	return err
}

// ErrPlaying says that another process plays on this store.
var ErrPlaying = errors.New("another boardhand is playing on this store of games; stop it, or give this one its own folder with --games")

// Claim makes this process the only one that plays on the store, until Close.
// The kernel frees the claim when the process dies in whatever way.
func (s *Store) Claim() error {
	f, err := os.OpenFile(filepath.Join(s.dir, "playing.lock"), os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		_ = f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return ErrPlaying
		}
		return fmt.Errorf("cannot lock the store of games: %w", err)
	}
	s.lock = f
	return nil
}

// Close frees the store.
func (s *Store) Close() error {
	if s.lock != nil {
		_ = s.lock.Close()
	}
	return s.db.Close()
}

// Game is one game's heading.
type Game struct {
	ID      int64
	Started time.Time
	Rig     string // path of the rig file
	Machine string // the machine's side, "black" or "white"
	Start   string // FEN
	Result  string // "*", "1-0", "0-1", "1/2-1/2"
	Reason  string
	Plies   int
}

// Entry is one thing that happened, in order.
type Entry struct {
	N       int
	At      time.Time
	State   string
	Move    string // UCI, when the entry finishes a move
	Decided string // UCI, when the machine has chosen a move
	Note    string
	Picture string // file name under the game's pictures, or ""
	Back    string // UCI, when the entry takes a move back
	Task    string // a task begun, got on with or ended
	// Standing is where the men are, when one beside the board has changed.
	Standing string
}

// Begin adds a game and returns its number.
func (s *Store) Begin(ctx context.Context, g Game) (int64, error) {
	r, err := s.db.ExecContext(ctx, "INSERT INTO game(started, rig, machine, start) VALUES (?,?,?,?)",
		g.Started.UTC().Format(time.RFC3339Nano), g.Rig, g.Machine, g.Start)
	if err != nil {
		return 0, fmt.Errorf("cannot write the game: %w", err)
	}
	return r.LastInsertId()
}

// Append adds an entry; jpeg, if not empty, is kept as its picture. The
// picture is on disk before the entry that names it.
func (s *Store) Append(ctx context.Context, game int64, e Entry, jpeg []byte) error {
	var n int
	if err := s.db.QueryRowContext(ctx, "SELECT COALESCE(MAX(n),0)+1 FROM entry WHERE game=?", game).Scan(&n); err != nil {
		return fmt.Errorf("cannot read the game's log: %w", err)
	}
	if len(jpeg) > 0 {
		e.Picture = fmt.Sprintf("%05d.jpg", n)
		if err := s.savePicture(game, e.Picture, jpeg); err != nil {
			return err
		}
	}
	_, err := s.db.ExecContext(ctx, "INSERT INTO entry(game,n,at,state,move,decided,note,picture,back,task,standing) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
		game, n, e.At.UTC().Format(time.RFC3339Nano), e.State, e.Move, e.Decided, e.Note, e.Picture, e.Back, e.Task, e.Standing)
	if err != nil {
		return fmt.Errorf("cannot write the game's log: %w", err)
	}
	return nil
}

func (s *Store) savePicture(game int64, name string, jpeg []byte) error {
	dir := s.Pictures(game)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot keep the picture: %w", err)
	}
	tmp := filepath.Join(dir, name+".part")
	if err := os.WriteFile(tmp, jpeg, 0o644); err != nil {
		_ = os.Remove(tmp)
		return fmt.Errorf("cannot keep the picture: %w", err)
	}
	return os.Rename(tmp, filepath.Join(dir, name))
}

// Pictures is the folder of a game's pictures.
func (s *Store) Pictures(game int64) string {
	return filepath.Join(s.dir, "pictures", fmt.Sprintf("%04d", game))
}

// Finish writes how a game ended.
func (s *Store) Finish(ctx context.Context, game int64, result, reason string) error {
	_, err := s.db.ExecContext(ctx, "UPDATE game SET result=?, reason=? WHERE id=?", result, reason, game)
	if err != nil {
		return fmt.Errorf("cannot write the game's end: %w", err)
	}
	return nil
}

const selectGame = `SELECT id, started, rig, machine, start, result, reason,
	(SELECT COUNT(*) FROM entry WHERE entry.game = game.id AND move <> '') -
	(SELECT COUNT(*) FROM entry WHERE entry.game = game.id AND back <> '') FROM game`

// Games lists all games, newest first.
func (s *Store) Games(ctx context.Context) ([]Game, error) {
	rows, err := s.db.QueryContext(ctx, selectGame+" ORDER BY id DESC")
	if err != nil {
		return nil, fmt.Errorf("cannot read the games: %w", err)
	}
	defer func() { _ = rows.Close() }()
	var out []Game
	for rows.Next() {
		g, err := scanGame(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, g)
	}
	return out, rows.Err()
}

// Game reads one game's heading.
func (s *Store) Game(ctx context.Context, id int64) (Game, error) {
	g, err := scanGame(s.db.QueryRowContext(ctx, selectGame+" WHERE id=?", id))
	if errors.Is(err, sql.ErrNoRows) {
		return Game{}, fmt.Errorf("there is no game %d; `boardhand games` lists them", id)
	}
	return g, err
}

func scanGame(row interface{ Scan(...any) error }) (Game, error) {
	var g Game
	var started string
	if err := row.Scan(&g.ID, &started, &g.Rig, &g.Machine, &g.Start, &g.Result, &g.Reason, &g.Plies); err != nil {
		return g, err
	}
	var err error
	g.Started, err = time.Parse(time.RFC3339Nano, started)
	return g, err
}

// Entries reads a game's log in order.
func (s *Store) Entries(ctx context.Context, game int64) ([]Entry, error) {
	rows, err := s.db.QueryContext(ctx, "SELECT n,at,state,move,decided,note,picture,back,task,standing FROM entry WHERE game=? ORDER BY n", game)
	if err != nil {
		return nil, fmt.Errorf("cannot read the game's log: %w", err)
	}
	defer func() { _ = rows.Close() }()
	var out []Entry
	for rows.Next() {
		var e Entry
		var at string
		if err := rows.Scan(&e.N, &at, &e.State, &e.Move, &e.Decided, &e.Note, &e.Picture, &e.Back, &e.Task, &e.Standing); err != nil {
			return nil, err
		}
		if e.At, err = time.Parse(time.RFC3339Nano, at); err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, rows.Err()
}
