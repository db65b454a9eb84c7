// SPDX-License-Identifier: Apache-2.0

package search

import (
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// randomPositions plays random games and hands every position to f.
func randomPositions(t *testing.T, seed uint64, games int, f func(p *chess.Position)) {
	t.Helper()
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	for range games {
		p := chess.Start()
		for range 120 {
			moves := p.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			p.Make(moves[rng.IntN(len(moves))])
			f(&p)
		}
	}
}

// turned is the position with colours changed and ranks turned over.
func turned(t *testing.T, p *chess.Position) chess.Position {
	t.Helper()
	fields := strings.Fields(p.FEN())
	ranks := strings.Split(fields[0], "/")
	for i, j := 0, 7; i < j; i, j = i+1, j-1 {
		ranks[i], ranks[j] = ranks[j], ranks[i]
	}
	swap := func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z':
			return c - 32
		case c >= 'A' && c <= 'Z':
			return c + 32
		}
		return c
	}
	side := map[string]string{"w": "b", "b": "w"}[fields[1]]
	passant := strings.Map(func(c rune) rune {
		return map[rune]rune{'3': '6', '6': '3'}[c] + map[bool]rune{true: c}[c != '3' && c != '6']
	}, fields[3])
	return mustFEN(t, strings.Join([]string{
		strings.Map(swap, strings.Join(ranks, "/")), side,
		strings.Map(swap, fields[2]), passant, fields[4], fields[5],
	}, " "))
}

// mirrored is the position with files a to h exchanged for h to a.
func mirrored(t *testing.T, p *chess.Position) chess.Position {
	t.Helper()
	fields := strings.Fields(p.FEN())
	ranks := strings.Split(fields[0], "/")
	for i, r := range ranks {
		b := []byte(r)
		for k, l := 0, len(b)-1; k < l; k, l = k+1, l-1 {
			b[k], b[l] = b[l], b[k]
		}
		ranks[i] = string(b)
	}
	return mustFEN(t, strings.Join([]string{strings.Join(ranks, "/"), fields[1], "- - 0 1"}, " "))
}

// The value is that of the mover, so it must be the same with colours changed,
// and, since no term knows left from right, in the mirror.
func TestEvaluationIsTheSameForBothSidesAndInTheMirror(t *testing.T) {
	randomPositions(t, 1, 20, func(p *chess.Position) {
		want := evaluate(p)
		q := turned(t, p)
		if got := evaluate(&q); got != want {
			t.Fatalf("%s: %d, colours changed %d", p.FEN(), want, got)
		}
		q = mirrored(t, p)
		if got := evaluate(&q); got != want {
			t.Fatalf("%s: %d, in the mirror %d", p.FEN(), want, got)
		}
	})
}

// What every player knows, by at least a few centipawns.
func TestEvaluationPrefers(t *testing.T) {
	for _, c := range []struct{ name, better, worse string }{
		{"a queen to a rook", "4k3/pppp4/8/8/8/8/PPPP4/3QK3 w - - 0 1", "4k3/pppp4/8/8/8/8/PPPP4/3RK3 w - - 0 1"},
		{"a knight in the centre", "4k3/pppp4/8/8/3N4/8/PPPP4/4K3 w - - 0 1", "4k3/pppp4/8/8/8/8/PPPP4/N3K3 w - - 0 1"},
		{"sound pawns", "4k3/pppp4/8/8/8/8/PPPP4/4K3 w - - 0 1", "4k3/pppp4/8/8/8/2P5/P1PP4/4K3 w - - 0 1"},
		{"an advanced passed pawn", "4k3/8/8/P7/8/8/8/4K3 w - - 0 1", "4k3/8/8/8/8/8/P7/4K3 w - - 0 1"},
		{"a rook on an open file", "4k3/ppp2ppp/8/8/8/8/PPP2PPP/3RK3 w - - 0 1", "4k3/ppp2ppp/8/8/8/8/PPP2PPP/R3K3 w - - 0 1"},
		{"a sheltered king", "rnbq1rk1/pppp1ppp/8/8/8/8/PPPP1PPP/RNBQ1RK1 w - - 0 1", "rnbq1rk1/pppp1ppp/8/8/8/8/PPPP1PPP/RNBQKR2 w - - 0 1"},
		{"the hunted king on the edge", "k7/8/1K6/8/8/8/8/7R w - - 0 1", "8/8/1K6/8/4k3/8/8/7R w - - 0 1"},
	} {
		a, b := mustFEN(t, c.better), mustFEN(t, c.worse)
		if evaluate(&a) < evaluate(&b)+5 {
			t.Errorf("%s: %d against %d", c.name, evaluate(&a), evaluate(&b))
		}
	}
}
