package app

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/table"
)

// defaultGames is the folder of games when --games is not given.
const defaultGames = "games"

func gamesCommand(o *out) *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:   "games",
		Short: "List the games kept, export them, look at one",
		Args:  cobra.NoArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return listGames(c.Context(), o, dir) },
	}
	c.PersistentFlags().StringVar(&dir, "games", defaultGames, "folder of games")
	c.AddCommand(gameCommand("pgn N", "Print a game as PGN", func(ctx context.Context, s *store.Store, id int64) error {
		return printPGN(ctx, o, s, id)
	}, &dir))
	c.AddCommand(gameCommand("log N", "Print what happened in a game", func(ctx context.Context, s *store.Store, id int64) error {
		return printLog(ctx, o, s, id)
	}, &dir))
	var f gameAgain
	again := gameCommand("watch N", "Read a game again from the pictures that were kept", func(ctx context.Context, s *store.Store, id int64) error {
		f.id = id
		return watchGame(ctx, o, s, f)
	}, &dir)
	again.Long = `Reads the pictures that were kept of a game again, with the rig file it was
played on: those on which a move was finished or taken back. Where the reader is
in doubt, the game's log says what was played.`
	again.Flags().StringVar(&f.rig, "rig", "", "rig file, when the one that the game was played on is elsewhere now")
	again.Flags().StringVar(&f.overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.AddCommand(again)
	return c
}

// gameAgain is a game whose pictures are read again.
type gameAgain struct {
	id      int64
	rig     string // "": the one it was played on
	overlay string
}

// watchGame reads the pictures of a game again, with the rig it was played on.
func watchGame(ctx context.Context, o *out, s *store.Store, a gameAgain) error {
	g, err := s.Game(ctx, a.id)
	if err != nil {
		return err
	}
	r := rig.Default()
	if file := cmp.Or(a.rig, g.Rig); file != "" {
		if r, err = rig.Load(file, rig.Watching); err != nil {
			return err
		}
	}
	folder, err := camera.OpenFolder(s.Pictures(a.id))
	if err != nil {
		return fmt.Errorf("no pictures are kept of game %d: %w", a.id, err)
	}
	pos, err := chess.ParseFEN(g.Start)
	if err != nil {
		return err
	}
	w, err := newWatcher(o, r, a.overlay)
	if err != nil {
		return err
	}
	entries, err := s.Entries(ctx, a.id)
	if err != nil {
		return err
	}
	w.answers = answersOf(entries, folder.Names())
	w.eye.Begin(pos)
	return w.run(ctx, folder)
}

// answersOf is what a game's log says of its pictures; what it says of one that
// was not kept comes before the next.
func answersOf(entries []store.Entry, kept []string) map[string]answer {
	out := map[string]answer{}
	var earlier []answer
	for _, e := range entries {
		a := answer{}
		switch {
		case e.Move != "":
			a.move = e.Move
		case e.Back != "":
			a.back = 1
		case e.State == string(table.Arranging) && e.Task == table.Task{}.String():
			start := chess.Start()
			a.set = start.FEN()
		default:
			continue
		}
		if slices.Contains(kept, e.Picture) {
			a.earlier, earlier = earlier, nil
			out[e.Picture] = a
		} else {
			earlier = append(earlier, a)
		}
	}
	return out
}

// gameCommand makes a command on one game.
func gameCommand(use, short string, do func(context.Context, *store.Store, int64) error, dir *string) *cobra.Command {
	return &cobra.Command{
		Use: use, Short: short, Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil {
				return fmt.Errorf("%q is not the number of a game; `boardhand games` lists them", args[0])
			}
			s, err := openGames(*dir)
			if err != nil {
				return err
			}
			defer func() { _ = s.Close() }()
			return do(c.Context(), s, id)
		},
	}
}

// openGames opens a store that is there; it does not make one.
func openGames(dir string) (*store.Store, error) {
	if _, err := os.Stat(filepath.Join(dir, "games.sqlite")); err != nil {
		return nil, fmt.Errorf("%s: no games are kept here; `boardhand play` keeps them, --games names another folder", dir)
	}
	return store.Open(dir)
}

func listGames(ctx context.Context, o *out, dir string) error {
	s, err := openGames(dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	games, err := s.Games(ctx)
	if err != nil {
		return err
	}
	for _, g := range games {
		if o.json {
			if err := o.object(gameLine{g.ID, g.Started.Format(time.RFC3339), g.Plies, g.Result, g.Reason, g.Machine}); err != nil {
				return err
			}
			continue
		}
		o.printf("%4d  %s  %3d plies  %-7s %s\n", g.ID, g.Started.Local().Format("2006-01-02 15:04"), g.Plies, g.Result, g.Reason)
	}
	if !o.json && len(games) > 0 {
		o.printf("\nGo on with the last unfinished one:  boardhand play RIG --resume\nAs PGN:  boardhand games pgn %d     what happened:  boardhand games log %d\nIts pictures read again:  boardhand games watch %d\n", games[0].ID, games[0].ID, games[0].ID)
	}
	return nil
}

type gameLine struct {
	Game    int64  `json:"game"`
	Started string `json:"started"`
	Plies   int    `json:"plies"`
	Result  string `json:"result"`
	Reason  string `json:"reason"`
	Machine string `json:"machine"`
}

// retold is a game as its log tells it.
type retold struct {
	table.Past
	taken []string // SAN of the moves that were taken back, in order
}

// replay makes a game of its log: the moves finished and not taken back, the
// machine's move that was decided but not finished, where the men beside the
// board are, and what was being done when the log ends.
func replay(g store.Game, entries []store.Entry) (retold, error) {
	start, err := chess.ParseFEN(g.Start)
	if err != nil {
		return retold{}, fmt.Errorf("game %d: %w", g.ID, err)
	}
	k := retold{Past: table.Past{Game: chess.NewGame(start)}}
	for _, e := range entries {
		if err := k.follow(e); err != nil {
			return retold{}, fmt.Errorf("game %d, entry %d: %w", g.ID, e.N, err)
		}
	}
	return k, nil
}

// follow does what one entry tells.
func (k *retold) follow(e store.Entry) (err error) {
	if e.Standing != "" {
		s, err := table.ParseStanding(e.Standing)
		if err != nil {
			return err
		}
		k.Standing = &s
	}
	if e.Task != "" {
		if k.Task, err = table.ParseTask(e.Task); err != nil {
			return err
		}
		k.Decided = 0
	}
	if e.Back != "" {
		return k.back(e.Back)
	}
	text := e.Move + e.Decided
	if text == "" {
		return nil
	}
	pos := k.Game.Position()
	m, err := pos.ParseUCI(text)
	if err != nil {
		return err
	}
	if k.Decided = m; e.Move == "" {
		return nil
	}
	k.Decided = 0
	return k.Game.Push(m)
}

// back takes the last move back.
func (k *retold) back(text string) error {
	n := len(k.Game.Moves)
	if n == 0 || k.Game.Moves[n-1].String() != text {
		return fmt.Errorf("%s is to be taken back, but it was not the last move", text)
	}
	m := k.Game.Moves[n-1]
	if err := k.Game.Pop(); err != nil {
		return err
	}
	pos := k.Game.Position()
	k.taken = append(k.taken, pos.SAN(m))
	return nil
}

func printPGN(ctx context.Context, o *out, s *store.Store, id int64) error {
	g, err := s.Game(ctx, id)
	if err != nil {
		return err
	}
	entries, err := s.Entries(ctx, id)
	if err != nil {
		return err
	}
	k, err := replay(g, entries)
	if err != nil {
		return err
	}
	game := k.Game
	if len(k.taken) > 0 {
		game.SetTag("TakenBack", strings.Join(k.taken, " "))
	}
	game.SetTag("Date", g.Started.Local().Format("2006.01.02"))
	game.SetTag("White", "Guest")
	game.SetTag("Black", "Machine")
	if g.Machine == chess.White.String() {
		game.SetTag("White", "Machine")
		game.SetTag("Black", "Guest")
	}
	game.SetTag("Event", "Game at the table")
	game.SetTag("Site", "?")
	game.SetTag("Round", strconv.FormatInt(id, 10))
	if game.Outcome().Result == chess.Unfinished && g.Result != "*" {
		game.SetTag("Result", g.Result)
	}
	text := game.PGN()
	if o.json {
		return o.object(map[string]string{"pgn": text})
	}
	o.printf("%s", text)
	return nil
}

func printLog(ctx context.Context, o *out, s *store.Store, id int64) error {
	if _, err := s.Game(ctx, id); err != nil {
		return err
	}
	entries, err := s.Entries(ctx, id)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if o.json {
			err := o.object(logLine{e.N, e.At.Format(time.RFC3339Nano), e.State, e.Move, e.Note, e.Picture, e.Back, e.Standing})
			if err != nil {
				return err
			}
			continue
		}
		o.printf("%5d  %s  %-10s %-6s %s\n", e.N, e.At.Local().Format("15:04:05"), e.State, e.Move, e.Note)
	}
	if !o.json {
		o.printf("Pictures: %s\n", s.Pictures(id))
	}
	return nil
}

type logLine struct {
	N       int    `json:"n"`
	At      string `json:"at"`
	State   string `json:"state"`
	Move    string `json:"move,omitempty"`
	Text    string `json:"text"`
	Picture string `json:"picture,omitempty"`
	Back    string `json:"taken_back,omitempty"`
	Men     string `json:"men,omitempty"` // where they are, when one beside the board has changed
}
