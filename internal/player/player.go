// SPDX-License-Identifier: Apache-2.0

// Package player chooses the machine's moves at the table: the built-in player,
// or an outside program for which the built-in one goes on where it fails.
package player

import (
	"context"
	"errors"
	"math/rand/v2"
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
	// Strength is a rung of search.Ladder for the built-in player; "": whatever it
	// finds within the limits, always the same.
	Strength string
	Chance   uint64             // what is left to chance follows from it and the game so far
	Tell     func(Substitution) // may be nil; called inside Choose, from its goroutine
}

// Player chooses the machine's moves at the table. It always comes to a move:
// where an outside player fails, the built-in one goes on. It serves one
// goroutine.
type Player struct {
	t       Thinker
	limits  search.Limits
	machine chess.Color
	weigher *search.Player
	how     search.Strength
	chance  uint64
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
	p := &Player{t: t, limits: o.Limits, machine: o.Machine, chance: o.Chance}
	if o.Strength != "" {
		err = p.SetStrength(o.Strength)
	}
	return p, err
}

// Choose picks the machine's move. It returns at once when ctx ends.
func (p *Player) Choose(ctx context.Context, g *chess.Game) (chess.Move, error) {
	pos := g.Position()
	p.machine = pos.SideToMove()
	if own, ok := p.t.(builtIn); ok && p.how.Name != "" {
		r, err := own.p.Play(ctx, search.At(g), p.limits, p.how, p.chanceIn(g))
		return r.Move, err
	}
	r, err := p.t.Think(ctx, g, p.limits)
	return r.Move, err
}

// chanceIn is what is left to chance in a game as it stands: the same when a move is
// chosen anew after a break, or after it was taken back.
func (p *Player) chanceIn(g *chess.Game) *rand.Rand {
	pos := g.Position()
	return rand.New(rand.NewPCG(p.chance, pos.Key()^uint64(len(g.Moves))))
}

// SetStrength has the built-in player choose like a rung of search.Ladder from its next
// move on. An outside player has a strength of its own.
func (p *Player) SetStrength(name string) error {
	how, err := search.StrengthNamed(name)
	if err != nil {
		return err
	}
	if !p.HasStrengths() {
		return errors.New("another program chooses my moves, as strongly as it is set: start without --player to change that here")
	}
	p.how = how
	return nil
}

// HasStrengths says whether the strength can be chosen.
func (p *Player) HasStrengths() bool { _, ok := p.t.(builtIn); return ok }

// Strength is the rung that the machine plays like; "": none was set.
func (p *Player) Strength() string { return p.how.Name }

// NextGame leaves another game to chance than the one before.
func (p *Player) NextGame() { p.chance++ }

// Advise finds a move for the side to move, as well as the built-in player can in
// about a second.
func (p *Player) Advise(ctx context.Context, g *chess.Game) (chess.Move, error) {
	r, err := p.look(ctx, g, adviceNodes)
	return r.Move, err
}

// look has the built-in player look at a game, whoever chooses the moves.
func (p *Player) look(ctx context.Context, g *chess.Game, nodes uint64) (r search.Result, err error) {
	if p.weigher == nil {
		if p.weigher, err = search.NewPlayer(weighMB); err != nil {
			return r, err
		}
	}
	return p.weigher.Think(ctx, search.At(g), search.Limits{Nodes: nodes})
}

// SetTime has the machine think so long about each move from now on.
func (p *Player) SetTime(d time.Duration) { p.limits = search.Limits{Time: d} }

// Weigh says how a game stands for the machine, in centipawns, as the built-in
// player sees it after a short look; ±30000 and beyond is a mate. A game
// without a legal move is an error.
func (p *Player) Weigh(ctx context.Context, g *chess.Game) (centipawns int, err error) {
	r, err := p.look(ctx, g, weighNodes)
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
