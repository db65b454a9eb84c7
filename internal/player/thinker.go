// SPDX-License-Identifier: Apache-2.0

package player

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/search"
	"boardhand/internal/uci"
)

// Thinker is whoever finds moves: the built-in player or an outside one.
type Thinker interface {
	// Think finds a move within the limits; it ends with ctx.
	Think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error)
	// Close ends an outside program.
	Close()
}

// OpenThinker makes the built-in player for "", or starts the program behind
// "uci:COMMAND" with its options set, each NAME=VALUE.
func OpenThinker(ctx context.Context, name string, settings []string, megabytes int) (Thinker, error) {
	if name == "" {
		if len(settings) > 0 {
			return nil, errors.New("--player-option is for an outside player: give --player uci:COMMAND too")
		}
		p, err := search.NewPlayer(megabytes)
		return builtIn{p}, err
	}
	command, ok := strings.CutPrefix(name, "uci:")
	if !ok {
		return nil, fmt.Errorf("--player must be uci:COMMAND, like uci:/usr/games/player; got %q", name)
	}
	k, err := uci.Keep(ctx, command, uci.Patience{}, settings...)
	if err != nil {
		return nil, fmt.Errorf("--player: %w", err)
	}
	return outside{k}, nil
}

type builtIn struct{ p *search.Player }

func (b builtIn) Think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error) {
	return b.p.Think(ctx, search.At(g), lim)
}

func (builtIn) Close() {}

type outside struct{ k *uci.Keeper }

func (o outside) Think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error) {
	began := time.Now()
	t, err := o.k.Think(ctx, g, uci.Limits{Time: lim.Time, Depth: lim.Depth, Nodes: lim.Nodes})
	return search.Result{Move: t.Move, ScoreCP: t.ScoreCP, Mate: t.Mate, Depth: t.Depth, Nodes: t.Nodes, PV: t.PV, Time: time.Since(began)}, err
}

func (o outside) Close() { o.k.Close() }
