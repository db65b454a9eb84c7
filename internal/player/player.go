// SPDX-License-Identifier: Apache-2.0

// Package player chooses the machine's moves at the table: the built-in player,
// or an outside program for which the built-in one goes on where it fails.
package player

import (
	"context"
	"errors"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/search"
	"boardhand/internal/uci"
)

// Options say who chooses the machine's moves, and how.
type Options struct {
	Name    string   // "" for the built-in player, or uci:COMMAND
	Set     []string // options of an outside player, each NAME=VALUE
	Limits  search.Limits
	Machine chess.Color
	Tell    func(Substitution) // may be nil; called inside Choose, from its goroutine
}

// Player chooses the machine's moves at the table. It always comes to a move:
// where an outside player fails, the built-in one goes on. It serves one
// goroutine.
type Player struct {
	t       Thinker
	limits  search.Limits
	machine chess.Color
	weigher *search.Player
}

// Open opens the player that the options name.
func Open(ctx context.Context, o Options) (*Player, error) {
	t, err := OpenThinker(ctx, o.Name, o.Set, searchMB)
	if err != nil {
		return nil, err
	}
	if out, ok := t.(outside); ok {
		t = relieved(out.k, o.Tell)
	}
	return &Player{t: t, limits: o.Limits, machine: o.Machine}, nil
}

// Choose picks the machine's move. It returns at once when ctx ends.
func (p *Player) Choose(ctx context.Context, g *chess.Game) (chess.Move, error) {
	pos := g.Position()
	p.machine = pos.SideToMove()
	r, err := p.t.Think(ctx, g, p.limits)
	return r.Move, err
}

// SetTime has the machine think so long about each move from now on.
func (p *Player) SetTime(d time.Duration) { p.limits = search.Limits{Time: d} }

// Weigh says how a game stands for the machine, in centipawns, as the built-in
// player sees it after a short look; ±30000 and beyond is a mate. A game
// without a legal move is an error.
func (p *Player) Weigh(ctx context.Context, g *chess.Game) (centipawns int, err error) {
	if p.weigher == nil {
		if p.weigher, err = search.NewPlayer(weighMB); err != nil {
			return 0, err
		}
	}
	r, err := p.weigher.Think(ctx, search.At(g), search.Limits{Nodes: weighNodes})
	pos := g.Position()
	if pos.SideToMove() != p.machine {
		r.ScoreCP = -r.ScoreCP
	}
	return r.ScoreCP, err
}

// Close ends an outside program.
func (p *Player) Close() { p.t.Close() }

// Change is what happened to an outside player.
type Change string

// The changes.
const (
	Restarted Change = "restarted" // it had to be started again
	Replaced  Change = "replaced"  // the built-in player goes on for the rest of the game
	Returned  Change = "returned"  // it chooses again, in another game
)

// Substitution tells that somebody else chooses the machine's moves from now
// on, or that an outside player had to be started again.
type Substitution struct {
	Change Change
	Player string // as the outside player calls itself; print it quoted
	Said   string // to the people at the table
	Cause  error  // for the maker; nil for Returned
}

// relief is an outside player with the built-in one to go on for it.
type relief struct {
	keeper *uci.Keeper
	own    *search.Player
	tell   func(Substitution)

	game  *chess.Game // of the last question
	plies int         // that it had
	lost  bool        // the outside player has failed in it
	back  bool        // it failed in an earlier one, and is tried again
}

func relieved(k *uci.Keeper, tell func(Substitution)) *relief {
	r := &relief{keeper: k, tell: tell}
	k.Restarted = func(cause error) {
		r.say(Restarted, "The other program did not answer; I start it again.", cause)
	}
	return r
}

func (r *relief) say(c Change, said string, cause error) {
	if r.tell != nil {
		r.tell(Substitution{Change: c, Player: r.keeper.Name(), Said: said, Cause: cause})
	}
}

func (r *relief) Think(ctx context.Context, g *chess.Game, lim search.Limits) (search.Result, error) {
	r.follow(g)
	if !r.lost {
		res, err := outside{r.keeper}.Think(ctx, g, lim)
		if err == nil && r.back {
			r.back = false
			r.say(Returned, "The other program chooses my moves again.", nil)
		}
		if err == nil || ctx.Err() != nil {
			return res, err
		}
		r.replace(err)
	}
	if r.own == nil {
		var err error
		if r.own, err = search.NewPlayer(searchMB); err != nil {
			return search.Result{}, err
		}
	}
	return builtIn{r.own}.Think(ctx, g, lim)
}

// follow notes which game is played: in another one the outside player is
// tried again.
func (r *relief) follow(g *chess.Game) {
	n := len(g.Moves)
	if another := g != r.game || n < 2 && r.plies >= 2; another {
		r.keeper.NewGame()
		r.back, r.lost = r.back || r.lost, false
	}
	r.game, r.plies = g, n
}

// replace gives the outside player up for this game.
func (r *relief) replace(cause error) {
	r.lost, r.back = true, false
	r.keeper.Kill()
	said := "The other program does not answer; I go on by myself."
	var wrong *uci.WrongError
	if errors.As(cause, &wrong) {
		said = "The other program names no legal move; I go on by myself."
	}
	r.say(Replaced, said, cause)
}

func (r *relief) Close() { r.keeper.Close() }
