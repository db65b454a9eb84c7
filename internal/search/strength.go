// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"boardhand/internal/chess"
)

// Strength is one rung of the ladder: how strongly the built-in player plays.
// Weak rungs err as people do: they look a ply or two ahead, do not have every
// piece in view, and take a move that is a little worse for as good.
type Strength struct {
	Name string // a drawing tool: the finer its line, the stronger the player
	For  string // whom it suits, in a few words

	Nodes     uint64  // positions looked at for a move; 0: the limits alone count
	Depth     int     // plies looked ahead; 0: as deep as nodes and limits allow
	Overlooks float64 // share of the pieces of both sides that are not in view, 0–1
	Blur      float64 // standard deviation of what a move seems worth, centipawns
	Varies    int     // by how much a move of the opening may be worse than the best, centipawns
}

// Ladder is how strongly the built-in player can be asked to play, the weakest first.
var Ladder = func() (all []Strength) {
	for _, r := range rungs {
		all = append(all, Strength{Name: r.name, For: r.suits, Nodes: r.nodes, Depth: r.depth, Overlooks: r.overlooks, Blur: r.blur, Varies: r.varies})
	}
	return all
}()

// isCasual says whether a rung errs by itself, not only by looking at little.
func (s Strength) isCasual() bool { return s.Overlooks > 0 || s.Blur > 0 }

// StrengthNames are the names of the ladder's rungs, the weakest first.
func StrengthNames() (names []string) {
	for _, s := range Ladder {
		names = append(names, s.Name)
	}
	return names
}

// StrengthNamed is the rung of the ladder with a name.
func StrengthNamed(name string) (Strength, error) {
	i := slices.IndexFunc(Ladder, func(s Strength) bool { return s.Name == name })
	if i < 0 {
		return Strength{}, fmt.Errorf("the strength must be one of %s, the weakest first; got %q", strings.Join(StrengthNames(), ", "), name)
	}
	return Ladder[i], nil
}

// Play chooses a move for the position as a player of a strength does. It
// depends on its input alone where Think does, with rng as a part of it.
func (p *Player) Play(ctx context.Context, g Root, lim Limits, how Strength, rng *rand.Rand) (Result, error) {
	if how.isCasual() {
		return p.playCasually(ctx, g, how, rng)
	}
	if how.Nodes > 0 && (lim.Nodes == 0 || how.Nodes < lim.Nodes) {
		lim.Nodes = how.Nodes
	}
	if len(g.Keys) > variedPlies {
		return p.Think(ctx, g, lim)
	}
	begun, whole := time.Now(), lim.Time
	lim.Time -= lim.Time / 3
	best, err := p.Think(ctx, g, lim)
	if err != nil || best.Mate != 0 {
		return best, err
	}
	if p.s.deadline = (time.Time{}); whole > 0 {
		p.s.deadline = begun.Add(whole)
	}
	return p.varied(best, how.Varies, rng), ctx.Err()
}

// varied is a move taken at random among those that are worth nearly as much as
// the best one found: the first in a random order that stands the test.
func (p *Player) varied(best Result, margin int, rng *rand.Rand) Result {
	s := &p.s
	s.stopped, s.most = false, s.nodes+max(s.nodes/2, leastTests)
	moves := s.pos.LegalMoves(nil)
	rng.Shuffle(len(moves), func(i, j int) { moves[i], moves[j] = moves[j], moves[i] })
	least := best.ScoreCP - margin
	for _, m := range moves {
		if m == best.Move {
			return best
		}
		u := s.play(m, 0)
		score := -s.search(window{-least, 1 - least, best.Depth - 1}, 1, false)
		s.takeBack(m, u)
		if s.stopped {
			return best
		}
		if score >= least {
			best.Move, best.ScoreCP = m, score
			best.PV, best.Nodes = []chess.Move{m}, s.nodes
			return best
		}
	}
	return best
}
