// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
)

// casualGame plays Casual as White against a thinking player of the given
// nodes (or, with 0, against itself) and returns the game.
func casualGame(t *testing.T, seed uint64, skill float64, nodes uint64) *chess.Game {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 1))
	p, g := newTestPlayer(t), chess.NewGame(chess.Start())
	for len(g.Moves) < 200 && !g.Outcome().Over() {
		m, err := Casual(At(g), rng, skill)
		if pos := g.Position(); nodes > 0 && pos.SideToMove() == chess.Black {
			var r Result
			r, err = p.Think(context.Background(), At(g), Limits{Nodes: nodes})
			m = r.Move
		}
		if err == nil {
			err = g.Push(m)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return g
}

func TestCasualPlaysLegalGamesThatDiffer(t *testing.T) {
	seen := map[string]bool{}
	for seed := range uint64(3) {
		g := casualGame(t, seed, 0.5, 0)
		t.Logf("seed %d: %d plies, %s", seed, len(g.Moves), g.Outcome())
		seen[g.PGN()] = true
	}
	if len(seen) != 3 {
		t.Errorf("three seeds gave %d games", len(seen))
	}
	if again := casualGame(t, 2, 0.5, 0).PGN(); !seen[again] {
		t.Error("the same seed gave another game")
	}
}

func TestCasualLosesToAThinkingPlayer(t *testing.T) {
	seeds := uint64(3)
	if underRace {
		seeds = 1
	}
	for seed := range seeds {
		g := casualGame(t, seed, 0.3, 3000)
		if g.Outcome().Result != chess.BlackWins {
			t.Errorf("seed %d: %s after %d plies", seed, g.Outcome(), len(g.Moves))
		}
	}
}

// Even a careless person takes a queen left standing, most times, and a mate.
func TestCasualSeesTheObvious(t *testing.T) {
	for _, c := range []struct {
		fen, move string
		least     int // of 40
	}{
		{"4k3/pp3ppp/8/3q4/4P3/8/PPP2PPP/4K3 w - - 0 1", "e4d5", 36},
		{"6k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1", "a1a8", 36},
	} {
		n := 0
		for seed := range uint64(40) {
			m, err := Casual(Root{Position: mustFEN(t, c.fen)}, rand.New(rand.NewPCG(seed, 2)), 0.2)
			if err != nil {
				t.Fatal(err)
			}
			if m.String() == c.move {
				n++
			}
		}
		if n < c.least {
			t.Errorf("%s: %s chosen %d times of 40", c.fen, c.move, n)
		}
	}
}

func TestCasualRefuses(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	if _, err := Casual(Root{Position: chess.Start()}, rng, 2); err == nil {
		t.Error("skill 2 was taken")
	}
	if _, err := Casual(Root{Position: mustFEN(t, "7k/8/6Q1/8/8/8/8/K7 b - - 0 1")}, rng, 0.5); err == nil {
		t.Error("a move was found in a stalemate")
	}
}
