// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"context"
	"errors"

	"boardhand/internal/chess"
)

// Keeper keeps an outside player going: a wrong answer is asked for once more,
// and a player that hangs or has ended is started again once a game, with the
// position given anew. It serves one goroutine.
type Keeper struct {
	Restarted func(cause error) // if set, told before a new start

	command   string
	settings  []string
	patience  Patience
	p         *Player // nil when none runs
	name      string
	restarted bool // in this game
}

// Keep starts a player to keep going; each time it starts, its options are set as in Start.
func Keep(ctx context.Context, command string, patience Patience, settings ...string) (*Keeper, error) {
	k := &Keeper{command: command, patience: patience, settings: settings}
	return k, k.start(ctx)
}

func (k *Keeper) start(ctx context.Context) (err error) {
	if k.p, err = Start(ctx, k.command, k.patience, k.settings...); err == nil {
		k.name = k.p.Name
	}
	return err
}

// Name is what the player calls itself; print it quoted.
func (k *Keeper) Name() string { return k.name }

// NewGame forgets what went wrong in the game before.
func (k *Keeper) NewGame() { k.restarted = false }

// Think has the player choose a move. After an error that is not ctx's the
// player is not to be relied on in this game.
func (k *Keeper) Think(ctx context.Context, g *chess.Game, lim Limits) (Thought, error) {
	t, err := k.ask(ctx, g, lim)
	var wrong *WrongError
	switch {
	case err == nil || ctx.Err() != nil:
		return t, err
	case errors.As(err, &wrong):
	case k.restarted:
		return t, err
	default:
		k.restarted = true
		if k.Restarted != nil {
			k.Restarted(err)
		}
	}
	return k.ask(ctx, g, lim)
}

// ask puts the question once, to a new player where none runs.
func (k *Keeper) ask(ctx context.Context, g *chess.Game, lim Limits) (Thought, error) {
	if k.p == nil {
		if err := k.start(ctx); err != nil {
			return Thought{}, err
		}
	}
	t, err := k.p.Think(ctx, g, lim)
	var wrong *WrongError
	if err != nil && ctx.Err() == nil && !errors.As(err, &wrong) {
		k.Kill()
	}
	return t, err
}

// Kill ends the player at once; another question starts a new one.
func (k *Keeper) Kill() {
	if k.p != nil {
		k.p.Kill()
		k.p = nil
	}
}

// Close ends the player.
func (k *Keeper) Close() {
	if k.p != nil {
		k.p.Close()
		k.p = nil
	}
}
