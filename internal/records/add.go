// SPDX-License-Identifier: Apache-2.0

package records

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

// AddGames brings the games of a PGN file into the store. One that cannot be read or
// kept is passed over and named, and makes the answer no.
func AddGames(ctx context.Context, o *terminal.Out, dir, file string) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return fmt.Errorf("cannot read the games: %w", err)
	}
	all := chess.ReadPGNs(string(text))
	if len(all) == 0 {
		return fmt.Errorf("%s: no game in this file", file)
	}
	s, err := store.Open(dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	s.Warn = func(text string) { o.Complain("%s", text) }
	if err := s.Claim(); err != nil {
		return err
	}
	left := 0
	for _, r := range all {
		if err := ctx.Err(); err != nil {
			return err
		}
		if r.Err == nil {
			r.Err = addGame(ctx, o, s, r, fmt.Sprintf("%s, game %d, line %d", filepath.Base(file), r.N, r.Line))
		}
		if r.Err != nil {
			left++
			o.Complain("passed over: %s, game %d, line %d: %v", file, r.N, r.Line, r.Err)
		}
	}
	if left > 0 {
		o.Complain("%d of %s not added", left, unit.Count(len(all), "game"))
		return terminal.ErrNo
	}
	return nil
}

func addGame(ctx context.Context, o *terminal.Out, s *store.Store, r chess.GameRead, source string) error {
	head, entries, err := gamelog.Whole(r.Game, source, time.Now())
	if err != nil {
		return err
	}
	if head.ID, err = s.Add(ctx, head, entries); err != nil {
		return err
	}
	if o.JSON {
		return o.Object(gameLine{Game: head.ID, Started: head.Started.Format(time.RFC3339), Plies: len(r.Game.Moves), Result: head.Result, Reason: head.Reason})
	}
	o.Printf("game %d: %s – %s, %s, %s\n", head.ID, cmp.Or(r.Game.Tag("White"), "?"), cmp.Or(r.Game.Tag("Black"), "?"), unit.Count(len(r.Game.Moves), "ply"), head.Result)
	return nil
}
