// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"boardhand/internal/records"
	"boardhand/internal/session"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
)

// defaultGames is the folder of games when --games is not given.
const defaultGames = "games"

func gamesCommand(o *terminal.Out) *cobra.Command {
	var dir string
	c := &cobra.Command{
		Use:   "games",
		Short: "List the games kept, export them, look at one",
		Args:  cobra.NoArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return records.ListGames(c.Context(), o, dir) },
	}
	c.PersistentFlags().StringVar(&dir, "games", defaultGames, "folder of games")
	c.AddCommand(gameCommand(o, "pgn N", "Print a game as PGN", func(ctx context.Context, s *store.Store, id int64) error {
		return records.PrintPGN(ctx, o, s, id)
	}, &dir))
	c.AddCommand(gameCommand(o, "log N", "Print what happened in a game", func(ctx context.Context, s *store.Store, id int64) error {
		return records.PrintLog(ctx, o, s, id)
	}, &dir))
	var f records.GameAgain
	again := gameCommand(o, "watch N", "Read a game again from the pictures that were kept", func(ctx context.Context, s *store.Store, id int64) error {
		f.ID = id
		return records.WatchGame(ctx, o, s, f)
	}, &dir)
	again.Long = `Reads the pictures that were kept of a game again, with the rig file as it was
when the game began: those on which a move was finished or taken back. Where the
reader is in doubt, the game's log says what was played.`
	again.Flags().StringVar(&f.Rig, "rig", "", "rig file to read them with instead of the one kept with the game")
	again.Flags().StringVar(&f.Overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.AddCommand(again, addCommand(o, &dir), checkCommand(o, &dir), pruneCommand(o, &dir))
	c.AddCommand(gameCommand(o, "rig N", "Print the rig file as it was when a game began", func(ctx context.Context, s *store.Store, id int64) error {
		return records.PrintRig(ctx, o, s, id)
	}, &dir))
	return c
}

// gameCommand makes a command on one game.
func gameCommand(o *terminal.Out, use, short string, do func(context.Context, *store.Store, int64) error, dir *string) *cobra.Command {
	return &cobra.Command{
		Use: use, Short: short, Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil {
				return fmt.Errorf("%q is not the number of a game; `boardhand games` lists them", args[0])
			}
			s, err := records.OpenGames(o, *dir)
			if err != nil {
				return err
			}
			defer func() { _ = s.Close() }()
			return do(c.Context(), s, id)
		},
	}
}

func addCommand(o *terminal.Out, dir *string) *cobra.Command {
	return &cobra.Command{
		Use:   "add FILE.pgn",
		Short: "Bring the games of a PGN file into the store",
		Long: `Keeps each game of a PGN file with its tags and moves, to be listed, looked at and
printed again; comments and variations are left out. A game that cannot be read is named
with its line and passed over, and the exit code is 1. Such games are none of this table:
--resume does not go on with them.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return records.AddGames(c.Context(), o, *dir, args[0]) },
	}
}

func checkCommand(o *terminal.Out, dir *string) *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Look whether every game kept is whole",
		Long: `Reads every page of the store, checks the checksum of every game and of every
entry, and plays every game through. Exit code 1 when anything is damaged; it is
named. Nothing is changed.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return records.CheckGames(c.Context(), o, *dir) },
	}
}

func pruneCommand(o *terminal.Out, dir *string) *cobra.Command {
	size := defaultKeep
	c := &cobra.Command{
		Use:   "prune",
		Short: "Remove the pictures of the oldest games",
		Long: `Removes the pictures of the oldest games until those that are left take no more
than --keep-pictures. The games themselves stay, and so do the pictures of games
that are not finished.`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			budget, err := session.ParseSize(size)
			if err != nil {
				return err
			}
			return records.PruneGames(o, *dir, budget)
		},
	}
	c.Flags().StringVar(&size, "keep-pictures", size, `room for the pictures that stay, like "500 MB"; 0 keeps those of unfinished games only`)
	return c
}
