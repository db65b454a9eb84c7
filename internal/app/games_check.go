// SPDX-License-Identifier: Apache-2.0

package app

import (
	"github.com/spf13/cobra"

	"boardhand/internal/records"
	"boardhand/internal/session"
	"boardhand/internal/terminal"
)

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
