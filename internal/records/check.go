// SPDX-License-Identifier: Apache-2.0

package records

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/dustin/go-humanize"

	"boardhand/internal/gamelog"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

func CheckGames(ctx context.Context, o *terminal.Out, dir string) error {
	s, err := OpenGames(o, dir)
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
		if err := printFinding(o, v); err != nil {
			return err
		}
	}
	if bad {
		return terminal.ErrNo
	}
	return ctx.Err()
}

func printFinding(o *terminal.Out, v gamelog.Finding) error {
	if o.JSON {
		return o.Object(v)
	}
	name := v.File
	if v.Game != 0 {
		name = fmt.Sprintf("game %d", v.Game)
	}
	switch {
	case !v.Whole:
		o.Printf("%s: %s\n", name, strings.Join(v.Problems, "\n    "))
	case v.Game == 0:
		o.Printf("%s: whole\n", name)
	default:
		o.Printf("%s: whole, %s, %s, %s", name, unit.Count(v.Plies, "ply"), unit.Count(v.Entries, "entry"), unit.Count(v.Pictures, "picture"))
		if v.Gone > 0 {
			o.Printf(" (%d more are not kept any longer)", v.Gone)
		}
		o.Printf("\n")
	}
	return nil
}

func PruneGames(o *terminal.Out, dir string, budget int64) error {
	s, err := OpenGames(o, dir) // to read: nothing is written to it, and the disk may be full
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	p, err := s.Prune(budget)
	if o.JSON {
		return errors.Join(err, o.Object(map[string]any{"games": append([]int64{}, p.Games...), "freed_bytes": p.Freed, "kept_bytes": p.Kept}))
	}
	o.Printf("removed the pictures of %s: %s; %s of pictures are left", unit.Count(len(p.Games), "game"), humanize.Bytes(uint64(p.Freed)), humanize.Bytes(uint64(p.Kept)))
	if free, ferr := s.Free(); ferr == nil {
		o.Printf(", %s free on the disk", humanize.Bytes(uint64(free)))
	}
	o.Printf("\n")
	return err
}
