// SPDX-License-Identifier: Apache-2.0

package session

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
)

// LastGame is the value of --resume without a number.
const LastGame = "last"

// errNoneOpen says that there is nothing to go on with.
var errNoneOpen = errors.New("no unfinished game is kept here; leave out --resume to begin one")

// TakeUp finds the game to go on with.
func (e *Session) TakeUp(ctx context.Context) error {
	games, err := e.Store.Games(ctx)
	if err != nil {
		return err
	}
	games = gamelog.Played(games)
	g, err := e.chosen(ctx, games)
	if err != nil {
		return err
	}
	if g.IsAdded() {
		return fmt.Errorf("game %d was added from a file and nobody played it at this table: begin one from its position with --fen", g.ID)
	}
	k, err := gamelog.Tell(ctx, e.Store, g)
	if err != nil {
		return fmt.Errorf("%w; `boardhand games pgn %d` prints the moves before it", err, g.ID)
	}
	if err := e.SameRig(g, k); err != nil {
		return err
	}
	if k.Set != nil && g.ID == games[0].ID {
		e.ended = g
		e.follow(places.StandingOf(k.Set.Position()), *k.Set)
		if k.Standing != nil {
			e.Past.Standing = k.Standing
		}
		e.Past.Symptoms, e.Past.Strength = k.Symptoms, k.Strength
		return nil
	}
	if !g.Open() && k.Task.Kind == journal.NoTask && g.Reason != store.Abandoned {
		return fmt.Errorf("game %d is over (%s, %s); leave out --resume to begin a new one", g.ID, g.Result, g.Reason)
	}
	e.Heading, e.Past = g, k.Past
	return nil
}

// chosen is the game that --resume means.
func (e *Session) chosen(ctx context.Context, games []store.Game) (store.Game, error) {
	if e.Options.Resume != "" && e.Options.Resume != LastGame {
		id, err := strconv.ParseInt(e.Options.Resume, 10, 64)
		if err != nil || id < 1 {
			return store.Game{}, fmt.Errorf("--resume takes the number of a game, like --resume=3; got %q", e.Options.Resume)
		}
		return e.Store.Game(ctx, id)
	}
	for _, g := range games {
		if g.Damaged != nil {
			e.Out.Complain("passed over: %v", g.Damaged)
		}
	}
	g, ok := gamelog.Latest(ctx, e.Store, games)
	if !ok {
		return g, errNoneOpen
	}
	return g, nil
}

// mentionUnfinished says which game could be gone on with.
func (e *Session) mentionUnfinished(ctx context.Context) error {
	games, err := e.Store.Games(ctx)
	if err != nil {
		return err
	}
	if g, ok := gamelog.Unfinished(games); ok && g.Plies > 0 {
		e.Out.Printf("game %d (%s) is unfinished: --resume goes on with it; this is a new game\n", g.ID, unit.Count(g.Plies, "ply"))
	}
	return nil
}

// SameRig compares the rig with the one the game was begun on. What would make
// the record wrong is refused; the rest is said.
func (e *Session) SameRig(g store.Game, k gamelog.Retold) error {
	if g.RigText == "" && g.Machine != e.Rig.Play.Side {
		return fmt.Errorf("game %d was begun with the machine playing %s; set play.side to it", g.ID, g.Machine)
	}
	if g.RigText == "" || g.RigText == e.RigText {
		e.Rig.Play.Side = g.Machine // which a person may have asked for when it began
		return nil
	}
	was, err := rig.Parse(g.Rig, []byte(g.RigText), rig.Machine)
	if err != nil {
		e.Out.Complain("the rig kept with game %d cannot be compared with this one: %v", g.ID, err)
		return nil
	}
	wrong, other := gamelog.Conflicts(was, e.Rig, k.Standing)
	if len(wrong) > 0 {
		return fmt.Errorf("%s: %s changed since game %d began, and its record would be wrong; `boardhand games rig %d` prints the rig it was begun on, or leave out --resume", e.Rig.Name(), strings.Join(wrong, ", "), g.ID, g.ID)
	}
	e.Rig.Play.Side = g.Machine
	if len(other) > 0 {
		e.Out.Complain("%s: changed since game %d began: %s", e.Rig.Name(), g.ID, strings.Join(other, ", "))
	}
	return nil
}
