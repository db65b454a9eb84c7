// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/dustin/go-humanize"
	"github.com/spf13/cobra"

	"boardhand/internal/gamelog"
	"boardhand/internal/unit"
)

func checkCommand(o *out, dir *string) *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Look whether every game kept is whole",
		Long: `Reads every page of the store, checks the checksum of every game and of every
entry, and plays every game through. Exit code 1 when anything is damaged; it is
named. Nothing is changed.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return checkGames(c.Context(), o, *dir) },
	}
}

func checkGames(ctx context.Context, o *out, dir string) error {
	s, err := openGames(o, dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	file := gamelog.Finding{File: filepath.Join(dir, "games.sqlite")}
	if err := s.Intact(ctx); err != nil {
		file.Problems = append(file.Problems, err.Error())
	}
	games, err := s.Games(ctx)
	if err != nil {
		file.Problems = append(file.Problems, err.Error())
	}
	findings := []gamelog.Finding{file}
	for i := len(games) - 1; i >= 0; i-- {
		findings = append(findings, gamelog.Check(ctx, s, games[i]))
	}
	bad := false
	for _, v := range findings {
		v.Whole = len(v.Problems) == 0
		bad = bad || !v.Whole
		if err := o.finding(v); err != nil {
			return err
		}
	}
	if bad {
		return errNo
	}
	return ctx.Err()
}

func (o *out) finding(v gamelog.Finding) error {
	if o.json {
		return o.object(v)
	}
	name := v.File
	if v.Game != 0 {
		name = fmt.Sprintf("game %d", v.Game)
	}
	switch {
	case !v.Whole:
		o.printf("%s: %s\n", name, strings.Join(v.Problems, "\n    "))
	case v.Game == 0:
		o.printf("%s: whole\n", name)
	default:
		o.printf("%s: whole, %s, %s, %s", name, unit.Count(v.Plies, "ply"), unit.Count(v.Entries, "entry"), unit.Count(v.Pictures, "picture"))
		if v.Gone > 0 {
			o.printf(" (%d more are not kept any longer)", v.Gone)
		}
		o.printf("\n")
	}
	return nil
}

// defaultKeep is how much room pictures may take when it is not said: some 180
// games, at the 11 MB that were measured for one of 80 plies.
const defaultKeep = "2 GB"

func pruneCommand(o *out, dir *string) *cobra.Command {
	size := defaultKeep
	c := &cobra.Command{
		Use:   "prune",
		Short: "Remove the pictures of the oldest games",
		Long: `Removes the pictures of the oldest games until those that are left take no more
than --keep-pictures. The games themselves stay, and so do the pictures of games
that are not finished.`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return pruneGames(o, *dir, size) },
	}
	c.Flags().StringVar(&size, "keep-pictures", size, `room for the pictures that stay, like "500 MB"; 0 keeps those of unfinished games only`)
	return c
}

func pruneGames(o *out, dir, size string) error {
	budget, err := parseSize(size)
	if err != nil {
		return err
	}
	s, err := openGames(o, dir) // to read: nothing is written to it, and the disk may be full
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	p, err := s.Prune(budget)
	if o.json {
		return errors.Join(err, o.object(map[string]any{"games": append([]int64{}, p.Games...), "freed_bytes": p.Freed, "kept_bytes": p.Kept}))
	}
	o.printf("removed the pictures of %s: %s; %s of pictures are left", unit.Count(len(p.Games), "game"), humanize.Bytes(uint64(p.Freed)), humanize.Bytes(uint64(p.Kept)))
	if free, ferr := s.Free(); ferr == nil {
		o.printf(", %s free on the disk", humanize.Bytes(uint64(free)))
	}
	o.printf("\n")
	return err
}

// parseSize reads "2 GB", in bytes.
func parseSize(text string) (int64, error) {
	n, err := humanize.ParseBytes(text)
	hasUnit := strings.HasSuffix(strings.ToLower(text), "b")
	if err != nil || n > 1<<60 || n != 0 && !hasUnit {
		return 0, fmt.Errorf(`--keep-pictures takes a size with its unit, like "500 MB" or "2 GB"; got %q`, text)
	}
	return int64(n), nil
}
