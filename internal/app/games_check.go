package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/dustin/go-humanize"
	"github.com/spf13/cobra"

	"boardhand/internal/store"
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

// finding is what was found of one game, or of the file (game 0).
type finding struct {
	Game     int64    `json:"game,omitempty"`
	File     string   `json:"file,omitempty"`
	Whole    bool     `json:"whole"`
	Plies    int      `json:"plies,omitempty"`
	Entries  int      `json:"entries,omitempty"`
	Pictures int      `json:"pictures,omitempty"` // that are there
	Gone     int      `json:"pictures_gone,omitempty"`
	Problems []string `json:"problems,omitempty"`
}

func checkGames(ctx context.Context, o *out, dir string) error {
	s, err := openGames(o, dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	file := finding{File: filepath.Join(dir, "games.sqlite")}
	if err := s.Intact(ctx); err != nil {
		file.Problems = append(file.Problems, err.Error())
	}
	games, err := s.Games(ctx)
	if err != nil {
		file.Problems = append(file.Problems, err.Error())
	}
	findings := []finding{file}
	for i := len(games) - 1; i >= 0; i-- {
		findings = append(findings, checkGame(ctx, s, games[i]))
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

func checkGame(ctx context.Context, s *store.Store, g store.Game) finding {
	v := finding{Game: g.ID, Plies: g.Plies}
	if g.Damaged != nil {
		v.Problems = append(v.Problems, g.Damaged.Error())
	}
	entries, err := s.Entries(ctx, g.ID)
	if err != nil {
		v.Problems = append(v.Problems, err.Error())
	}
	v.Entries = len(entries)
	for i, e := range entries {
		if e.Damaged != nil {
			v.Problems = append(v.Problems, e.Damaged.Error())
		} else if e.N != i+1 && (i == 0 || e.N != entries[i-1].N+1) {
			v.Problems = append(v.Problems, fmt.Sprintf("game %d: an entry is missing before entry %d", g.ID, e.N))
		}
		if e.Picture == "" || e.Damaged != nil {
			continue
		}
		if info, err := os.Stat(filepath.Join(s.Pictures(g.ID), e.Picture)); err == nil && info.Size() > 0 {
			v.Pictures++
		} else {
			v.Gone++
		}
	}
	if len(v.Problems) == 0 {
		if _, err := replay(g, entries); err != nil {
			v.Problems = append(v.Problems, err.Error())
		}
	}
	return v
}

func (o *out) finding(v finding) error {
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
		o.printf("%s: whole, %s, %s, %s", name, counted(v.Plies, "ply", "plies"), counted(v.Entries, "entry", "entries"), counted(v.Pictures, "picture", "pictures"))
		if v.Gone > 0 {
			o.printf(" (%d more are not kept any longer)", v.Gone)
		}
		o.printf("\n")
	}
	return nil
}

// counted is a number with its noun.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
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
	o.printf("removed the pictures of %s: %s; %s of pictures are left", counted(len(p.Games), "game", "games"), humanize.Bytes(uint64(p.Freed)), humanize.Bytes(uint64(p.Kept)))
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
