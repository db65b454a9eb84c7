// SPDX-License-Identifier: Apache-2.0

package search

import (
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

func rung(t *testing.T, name string) Strength {
	t.Helper()
	s, err := StrengthNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// played is what a rung plays in a position, by seed.
func played(t *testing.T, fen string, how Strength, seed uint64) chess.Move {
	t.Helper()
	r, err := newTestPlayer(t).Play(t.Context(), Root{Position: mustFEN(t, fen)}, Limits{Nodes: 3000}, how, rand.New(rand.NewPCG(seed, 5)))
	if err != nil {
		t.Fatal(err)
	}
	return r.Move
}

func TestStrengthNamed(t *testing.T) {
	if _, err := StrengthNamed("granite"); err == nil || !strings.Contains(err.Error(), "chalk") || !strings.Contains(err.Error(), "needle") {
		t.Errorf("an unknown strength: %v", err)
	}
	if s := rung(t, "pen"); s.Name != "pen" {
		t.Errorf("pen is %+v", s)
	}
}

// A weak rung leaves a piece standing now and then, and no more often than that; a
// strong one never does. The queen on d4 is attacked by a pawn.
func TestWeakRungsOverlookThreats(t *testing.T) {
	const fen = "r1bqkb1r/pppp1ppp/2n2n2/4p3/3QP3/2N5/PPP2PPP/R1B1KBNR w KQkq - 0 5"
	leaves := func(name string) (n int) {
		for seed := range uint64(60) {
			pos := mustFEN(t, fen)
			m := played(t, fen, rung(t, name), seed)
			if pos.At(m.From()).Kind() != chess.Queen {
				n++
			}
		}
		return n
	}
	chalk, crayon, pen := leaves("chalk"), leaves("crayon"), leaves("pen")
	t.Logf("of 60 the queen was left standing: chalk %d, crayon %d, pen %d", chalk, crayon, pen)
	if chalk < 10 || chalk > 50 || crayon >= chalk || pen != 0 {
		t.Errorf("of 60 the queen was left standing: chalk %d, crayon %d, pen %d", chalk, crayon, pen)
	}
}

// No rung ignores every time a mate that it can give, or one that it is threatened with.
func TestEvenChalkSeesMatesAtTimes(t *testing.T) {
	for _, c := range []struct{ fen, moves string }{
		{"6k1/5ppp/8/8/8/8/5PPP/R5K1 w - - 0 1", "a1a8"},
		{"r5k1/5ppp/8/8/8/5N2/5PPP/6K1 w - - 0 1", "f3e1 f3d2 g2g3 g2g4 h2h3 h2h4 g1f1"}, // else …Ra1 mates
	} {
		for _, how := range Ladder {
			n := 0
			for seed := range uint64(30) {
				if strings.Contains(c.moves, played(t, c.fen, how, seed).String()) {
					n++
				}
			}
			if n < 8 {
				t.Errorf("%s: %s plays one of %s only %d times of 30", c.fen, how.Name, c.moves, n)
			}
		}
	}
}

// Each rung opens its games in several ways, the same ones with the same seed, and
// with a move that is nearly as good as the best where it is strong.
func TestRungsVaryTheirGames(t *testing.T) {
	start := chess.Start()
	for _, how := range Ladder {
		seen := map[chess.Move]bool{}
		for seed := range uint64(20) {
			m := played(t, start.FEN(), how, seed)
			seen[m] = true
			if again := played(t, start.FEN(), how, seed); again != m {
				t.Errorf("%s, seed %d: %s, then %s", how.Name, seed, m, again)
			}
		}
		if len(seen) < 2 {
			t.Errorf("%s always begins with %v", how.Name, seen)
		}
	}
}

// Where one move is clearly best, and after the opening, a strong rung does not vary.
func TestStrongRungsVaryOnlyAmongEquals(t *testing.T) {
	const hangs = "4k3/pp3ppp/8/3q4/4P3/8/PPP2PPP/4K3 w - - 0 1"
	for seed := range uint64(10) {
		if m := played(t, hangs, rung(t, "needle"), seed); m.String() != "e4d5" {
			t.Errorf("seed %d: %s", seed, m)
		}
	}
	g := chess.NewGame(chess.Start())
	for _, text := range strings.Fields("e2e4 e7e5 g1f3 b8c6 f1b5 a7a6 b5a4 g8f6 e1g1 f8e7 f1e1 b7b5") {
		pos := g.Position()
		m, err := pos.ParseUCI(text)
		if err == nil {
			err = g.Push(m)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	p, seen := newTestPlayer(t), map[chess.Move]bool{}
	for seed := range uint64(10) {
		r, err := p.Play(t.Context(), At(g), Limits{Nodes: 3000}, rung(t, "needle"), rand.New(rand.NewPCG(seed, 5)))
		if err != nil {
			t.Fatal(err)
		}
		seen[r.Move] = true
	}
	if len(seen) != 1 {
		t.Errorf("after the opening: %v", seen)
	}
}

func TestPlayRefuses(t *testing.T) {
	for _, how := range Ladder {
		if _, err := newTestPlayer(t).Play(t.Context(), Root{Position: mustFEN(t, "7k/8/6Q1/8/8/8/8/K7 b - - 0 1")}, Limits{Nodes: 100}, how, rand.New(rand.NewPCG(1, 1))); err == nil {
			t.Errorf("%s found a move in a stalemate", how.Name)
		}
	}
}
