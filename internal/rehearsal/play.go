// SPDX-License-Identifier: Apache-2.0

// Package rehearsal plays games unattended on a simulated table and counts what
// went wrong: a referee watches the machine, compares what it believes with what
// truly stands there, and cuts its power where that is wanted.
package rehearsal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
)

// Spec is one game of a rehearsal, with its rematches.
type Spec struct {
	Number    int    // of the game, from 1
	Seed      int64  // of the rehearsal
	Plies     int    // after which a game is stopped
	Rematches int    // how many more games are played at the table, each after a set-up
	HasCuts   bool   // the power is cut now and then
	Keep      string // folder for the pictures of every game; "": none is kept
	RigText   []byte // the rig's file, kept with the pictures
}

// seedStep keeps the seeds of neighbouring games apart.
const seedStep = 1_000_003

// seed is that of the game.
func (s Spec) seed() int64 { return s.Seed*seedStep + int64(s.Number) }

// Play plays the games of one table, from the start position on. open puts the
// machine together, its world drawn from the seed it is given.
func Play(ctx context.Context, s Spec, open func(ctx context.Context, seed int64) (*Machine, error)) (Tally, error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	m, err := open(ctx, s.seed())
	if err != nil {
		return Tally{}, err
	}
	if m.Driven != nil {
		defer m.Driven.Close()
	}
	r := NewReferee(m, s)
	past := journal.Past{}
	for k := range s.Rematches + 1 {
		past.Game = chess.NewGame(chess.Start())
		if err := r.begin(k); err != nil {
			return Tally{}, err
		}
		err := r.Play(ctx, past, k < s.Rematches)
		isOver := errors.Is(err, context.Canceled) && (r.failed != nil || r.tally.Stuck > 0)
		if err != nil && !isOver {
			return Tally{}, err
		}
		if err := r.end(); err != nil {
			return Tally{}, err
		}
		if isOver {
			return r.Tally(), r.failed
		}
		standing := r.table.Standing()
		past.Standing = &standing
	}
	return r.Tally(), nil
}

// begin begins the k-th game at the table.
func (r *Referee) begin(k int) (err error) {
	r.isSetting, r.since, r.frames = false, r.tally.Pictures, 0
	r.log.Reset()
	r.answers.Reset()
	name := fmt.Sprintf("game_%03d", r.spec.Number)
	if k > 0 {
		name = fmt.Sprintf("%s_%d", name, k+1)
	}
	r.keep, err = keepFolder(r.spec.Keep, name, r.spec.RigText)
	return err
}

// keepFolder makes the folder of a game, with the rig file in it.
func keepFolder(dir, name string, rigText []byte) (string, error) {
	if dir == "" {
		return "", nil
	}
	folder := filepath.Join(dir, name)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", fmt.Errorf("cannot keep pictures: %w", err)
	}
	return folder, os.WriteFile(filepath.Join(folder, "rig.toml"), rigText, 0o644)
}

// Play plays one game to its end, through every cut; the pieces are set up for
// another one in the end if that is wanted.
func (r *Referee) Play(ctx context.Context, past journal.Past, isSetUpNext bool) error {
	ctx, r.stop = context.WithCancel(ctx)
	defer r.stop()
	r.game = past.Game
	r.cuts.begin(past.Game, r.machine.Settings.Machine.Side)
	suspects := r.machine.Settings.Suspects
	for {
		inner, end := context.WithCancelCause(ctx)
		r.cuts.on(end)
		err := r.session(inner, past, suspects, isSetUpNext)
		end(nil)
		if !errors.Is(context.Cause(inner), errCut) {
			return err
		}
		if past, suspects, err = r.takeUp(); err != nil {
			return err
		}
	}
}

// session plays until the game is over or the power goes.
func (r *Referee) session(ctx context.Context, past journal.Past, suspects *table.Suspects, isSetUpNext bool) error {
	set := r.machine.Settings
	set.Suspects, set.MaxPlies = suspects, r.spec.Plies
	set.Patience = time.Millisecond // the world's time does not pass while it waits
	parts := r.machine.Connect()
	parts.Guest, parts.Log, parts.Gantry = r.machine.Guest, r, cutGantry{parts.Gantry, &r.cuts}
	if guard := parts.Lookout.Guard; guard != nil {
		parts.Lookout.Guard = watched{guard, r}
	}
	if d := r.machine.Driven; d != nil {
		d.Join(&parts)
	}
	r.table = table.New(parts, set, past, r.see)
	err := r.table.Run(ctx)
	for err == nil && r.table.IsWanted() { // the last move is taken back
		err = r.table.Grant(ctx)
	}
	if err == nil && isSetUpNext && !r.table.Arranged() {
		err = r.setUp(ctx)
	}
	return err
}

// setUp has the machine set the pieces up for the next game.
func (r *Referee) setUp(ctx context.Context) error {
	r.isSetting = true
	if err := r.table.Request(journal.Request{Kind: journal.RequestNew}); err != nil {
		return err
	}
	return r.table.Grant(ctx)
}

// takeUp is what the next session goes on with: what the log kept, with a
// reader that knows nothing. A log that does not fit the table is a state lost.
func (r *Referee) takeUp() (journal.Past, *table.Suspects, error) {
	r.tally.PowerCuts++
	r.since = r.tally.Pictures
	k, err := gamelog.Replay(r.cuts.heading, r.cuts.entries)
	if err != nil {
		return k.Past, nil, err
	}
	fmt.Fprintf(&r.log, "  the power was cut; %d plies, decided %v, %s\n", len(k.Game.Moves), k.Decided, k.Task)
	if wrong := Differing(r.machine.World.Truth(), GoingOn(k.Past, r.machine.Settings.Machine.Side)); len(wrong) > 0 {
		fmt.Fprintf(&r.log, "  WRONG: %s\n", strings.Join(wrong, "; "))
		r.tally.LostState++
	}
	suspects, err := r.machine.Restart(k.Game.Position())
	if err != nil {
		return k.Past, nil, err
	}
	r.game = k.Game
	return k.Past, suspects, nil
}

// end counts a game and writes what was kept of it.
func (r *Referee) end() error {
	r.tally.Games++
	if r.tally.Results == nil {
		r.tally.Results = map[string]int{}
	}
	r.tally.Results[string(r.game.Outcome().Result)]++
	if r.keep == "" {
		return nil
	}
	r.game.SetTag("Event", "Rehearsal on the twin")
	for name, text := range map[string]string{"log.txt": r.log.String(), "game.pgn": r.game.PGN(), "answers.txt": r.answers.String()} {
		if err := os.WriteFile(filepath.Join(r.keep, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}
