// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
)

// lastGame is the value of --resume without a number.
const lastGame = "last"

// resumeArgs takes a rig file, and says how to name a game.
func resumeArgs(c *cobra.Command, args []string) error {
	if f := c.Flags().Lookup("resume"); f != nil && f.Value.String() == lastGame && len(args) > 0 {
		last := args[len(args)-1]
		_, err := strconv.Atoi(last)
		if _, missing := os.Stat(last); err == nil && missing != nil {
			return fmt.Errorf("to go on with game %s write --resume=%s", last, last)
		}
	}
	return cobra.MaximumNArgs(1)(c, args)
}

// errNoneOpen says that there is nothing to go on with.
var errNoneOpen = errors.New("no unfinished game is kept here; leave out --resume to begin one")

// takeUp finds the game to go on with.
func (e *evening) takeUp(ctx context.Context) error {
	games, err := e.store.Games(ctx)
	if err != nil {
		return err
	}
	g, err := e.chosen(ctx, games)
	if err != nil {
		return err
	}
	k, err := gamelog.Tell(ctx, e.store, g)
	if err != nil {
		return fmt.Errorf("%w; `boardhand games pgn %d` prints the moves before it", err, g.ID)
	}
	if err := e.sameRig(g, k); err != nil {
		return err
	}
	if k.Set != nil && g.ID == games[0].ID {
		e.ended = g
		e.follow(places.StandingOf(chess.Start()), *k.Set)
		if k.Standing != nil {
			e.past.Standing = k.Standing
		}
		return nil
	}
	if !g.Open() && k.Task.Kind == journal.NoTask && g.Reason != store.Abandoned {
		return fmt.Errorf("game %d is over (%s, %s); leave out --resume to begin a new one", g.ID, g.Result, g.Reason)
	}
	e.heading, e.past = g, k.Past
	return nil
}

// chosen is the game that --resume means.
func (e *evening) chosen(ctx context.Context, games []store.Game) (store.Game, error) {
	if e.f.resume != "" && e.f.resume != lastGame {
		id, err := strconv.ParseInt(e.f.resume, 10, 64)
		if err != nil || id < 1 {
			return store.Game{}, fmt.Errorf("--resume takes the number of a game, like --resume=3; got %q", e.f.resume)
		}
		return e.store.Game(ctx, id)
	}
	for _, g := range games {
		if g.Damaged != nil {
			e.o.complain("passed over: %v", g.Damaged)
		}
	}
	g, ok := gamelog.Latest(ctx, e.store, games)
	if !ok {
		return g, errNoneOpen
	}
	return g, nil
}

// mentionUnfinished says which game could be gone on with.
func (e *evening) mentionUnfinished(ctx context.Context) error {
	games, err := e.store.Games(ctx)
	if err != nil {
		return err
	}
	if g, ok := gamelog.Unfinished(games); ok && g.Plies > 0 {
		e.o.printf("game %d (%s) is unfinished: --resume goes on with it; this is a new game\n", g.ID, unit.Count(g.Plies, "ply"))
	}
	return nil
}

// sameRig compares the rig with the one the game was begun on. What would make
// the record wrong is refused; the rest is said.
func (e *evening) sameRig(g store.Game, k gamelog.Retold) error {
	if g.RigText == "" && g.Machine != e.rig.Play.Side {
		return fmt.Errorf("game %d was begun with the machine playing %s; set play.side to it", g.ID, g.Machine)
	}
	if g.RigText == "" || g.RigText == e.rigText {
		e.rig.Play.Side = g.Machine // which a person may have asked for when it began
		return nil
	}
	was, err := rig.Parse(g.Rig, []byte(g.RigText), rig.Machine)
	if err != nil {
		e.o.complain("the rig kept with game %d cannot be compared with this one: %v", g.ID, err)
		return nil
	}
	wrong, other := gamelog.Conflicts(was, e.rig, k.Standing)
	if len(wrong) > 0 {
		return fmt.Errorf("%s: %s changed since game %d began, and its record would be wrong; `boardhand games rig %d` prints the rig it was begun on, or leave out --resume", e.rig.Name(), strings.Join(wrong, ", "), g.ID, g.ID)
	}
	e.rig.Play.Side = g.Machine
	if len(other) > 0 {
		e.o.complain("%s: changed since game %d began: %s", e.rig.Name(), g.ID, strings.Join(other, ", "))
	}
	return nil
}
