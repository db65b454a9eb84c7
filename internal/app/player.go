package app

import (
	"context"
	"fmt"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/search"
	"boardhand/internal/uci"
)

// thinker is whoever chooses moves: the built-in player or an outside one.
type thinker interface {
	think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error)
	close()
}

// openThinker makes the built-in player for "", or starts the program behind
// "uci:COMMAND".
func openThinker(ctx context.Context, name string, megabytes int) (thinker, error) {
	if name == "" {
		p, err := search.NewPlayer(megabytes)
		return builtIn{p}, err
	}
	command, ok := strings.CutPrefix(name, "uci:")
	if !ok {
		return nil, fmt.Errorf("--player must be uci:COMMAND, like uci:/usr/games/player; got %q", name)
	}
	p, err := uci.Start(ctx, command)
	if err != nil {
		return nil, fmt.Errorf("--player: %w", err)
	}
	return outside{p}, nil
}

type builtIn struct{ p *search.Player }

func (b builtIn) think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error) {
	return b.p.Think(ctx, search.At(g), lim)
}

func (builtIn) close() {}

type outside struct{ p *uci.Player }

func (o outside) think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error) {
	began := time.Now()
	t, err := o.p.Think(ctx, g, uci.Limits{Time: lim.Time, Depth: lim.Depth, Nodes: lim.Nodes})
	return search.Result{Move: t.Move, ScoreCP: t.ScoreCP, Mate: t.Mate, Depth: t.Depth, Nodes: t.Nodes, PV: t.PV, Time: time.Since(began)}, err
}

func (o outside) close() { o.p.Close() }

// player is a thinker with its limits, as the table wants it.
type player struct {
	t   thinker
	lim search.Limits
}

// Choose picks the machine's move.
func (p player) Choose(ctx context.Context, g *chess.Game) (chess.Move, error) {
	r, err := p.t.think(ctx, g, p.lim)
	return r.Move, err
}

// drawNodes is how far the player looks to judge an offer of a draw.
const drawNodes = 20_000

// Weigh says how the game stands for the side to move, in centipawns.
func (p player) Weigh(ctx context.Context, g *chess.Game) (int, error) {
	r, err := p.t.think(ctx, g, search.Limits{Nodes: drawNodes})
	if r.Mate != 0 {
		r.ScoreCP = 10_000
		if r.Mate < 0 {
			r.ScoreCP = -r.ScoreCP
		}
	}
	return r.ScoreCP, err
}
