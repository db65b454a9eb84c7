// SPDX-License-Identifier: Apache-2.0

package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
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
	c.AddCommand(o.gameCommand("pgn N", "Print a game as PGN", func(ctx context.Context, s *store.Store, id int64) error {
		return printPGN(ctx, o, s, id)
	}, &dir))
	c.AddCommand(o.gameCommand("log N", "Print what happened in a game", func(ctx context.Context, s *store.Store, id int64) error {
		return printLog(ctx, o, s, id)
	}, &dir))
	var f gameAgain
	again := o.gameCommand("watch N", "Read a game again from the pictures that were kept", func(ctx context.Context, s *store.Store, id int64) error {
		f.id = id
		return watchGame(ctx, o, s, f)
	}, &dir)
	again.Long = `Reads the pictures that were kept of a game again, with the rig file as it was
when the game began: those on which a move was finished or taken back. Where the
reader is in doubt, the game's log says what was played.`
	again.Flags().StringVar(&f.rig, "rig", "", "rig file to read them with instead of the one kept with the game")
	again.Flags().StringVar(&f.overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.AddCommand(again, checkCommand(o, &dir), pruneCommand(o, &dir))
	c.AddCommand(o.gameCommand("rig N", "Print the rig file as it was when a game began", func(ctx context.Context, s *store.Store, id int64) error {
		return printRig(ctx, o, s, id)
	}, &dir))
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
	switch {
	case a.rig != "":
		r, err = rig.Load(a.rig, rig.Watching)
	case g.RigText != "": // as it was, whatever has become of the file
		r, err = rig.Parse(cmp.Or(g.Rig, "the rig kept with the game"), []byte(g.RigText), rig.Watching)
	case g.Rig != "":
		r, err = rig.Load(g.Rig, rig.Watching)
	}
	if err != nil {
		return err
	}
	folder, err := camera.OpenFolder(s.Pictures(a.id))
	if err != nil {
		return fmt.Errorf("no pictures are kept of game %d: %w", a.id, err)
	}
	pos, err := chess.ParseFEN(g.Start)
	if err != nil {
		return err
	}
	eye, w, err := newWatch(o, r, a.overlay)
	if err != nil {
		return err
	}
	entries, err := s.Entries(ctx, a.id)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Damaged != nil {
			o.complain("passed over: %v", e.Damaged)
		}
	}
	entries = slices.DeleteFunc(entries, func(e store.Entry) bool { return e.Damaged != nil })
	eye.Begin(pos)
	return follow.New(eye, follow.Recorded(entries, folder.Names()), w).Run(ctx, folder)
}

// gameCommand makes a command on one game.
func (o *out) gameCommand(use, short string, do func(context.Context, *store.Store, int64) error, dir *string) *cobra.Command {
	return &cobra.Command{
		Use: use, Short: short, Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil {
				return fmt.Errorf("%q is not the number of a game; `boardhand games` lists them", args[0])
			}
			s, err := openGames(o, *dir)
			if err != nil {
				return err
			}
			defer func() { _ = s.Close() }()
			return do(c.Context(), s, id)
		},
	}
}

// openGames opens a store that is there, to read it: also on a full disk and on
// one that cannot be written.
func openGames(o *out, dir string) (*store.Store, error) {
	s, warning, err := store.OpenToRead(dir)
	if warning != "" {
		o.complain("%s", warning)
	}
	return s, err
}

// complain prints a line on the error stream.
func (o *out) complain(format string, a ...any) {
	_, _ = fmt.Fprintf(o.err, "boardhand: "+format+"\n", a...)
}

func listGames(ctx context.Context, o *out, dir string) error {
	s, err := openGames(o, dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	games, err := s.Games(ctx)
	if err != nil && len(games) == 0 {
		return err
	}
	if !o.json && len(games) > 0 {
		o.printf("game  begun             plies  result   how it ended\n")
	}
	for _, g := range games {
		if err := o.game(g); err != nil {
			return err
		}
	}
	if !o.json && len(games) > 0 {
		hints(o, games)
	}
	return err
}

// game prints a line of the list.
func (o *out) game(g store.Game) error {
	if o.json {
		l := gameLine{Game: g.ID, Started: g.Started.Format(time.RFC3339), Plies: g.Plies, Result: g.Result, Reason: g.Reason, Machine: g.Machine}
		if g.Damaged != nil {
			l = gameLine{Game: g.ID, Damaged: g.Damaged.Error()}
		}
		return o.object(l)
	}
	if g.Damaged != nil {
		o.printf("%4d  %v; `boardhand games check` says more\n", g.ID, g.Damaged)
		return nil
	}
	o.printf("%4d  %s  %5d  %-7s  %s\n", g.ID, g.Started.Local().Format("2006-01-02 15:04"), g.Plies, g.Result, cmp.Or(g.Reason, "unfinished"))
	return nil
}

// hints say what can be done with the games listed.
func hints(o *out, games []store.Game) {
	o.printf("\n")
	if g, ok := gamelog.Unfinished(games); ok {
		o.printf("Go on with game %d:  boardhand play RIG --resume\n", g.ID)
	}
	n := games[0].ID
	o.printf("As PGN:  boardhand games pgn %d     what happened:  boardhand games log %d\nIts pictures read again:  boardhand games watch %d\n", n, n, n)
}

type gameLine struct {
	Game    int64  `json:"game"`
	Started string `json:"started,omitempty"`
	Plies   int    `json:"plies"`
	Result  string `json:"result,omitempty"`
	Reason  string `json:"reason"`
	Machine string `json:"machine,omitempty"`
	Damaged string `json:"damaged,omitempty"`
}
