// SPDX-License-Identifier: Apache-2.0

package search

import (
	"testing"

	"boardhand/internal/chess"
)

// slowExchange is what a capture gains by the rule "each side takes with its
// cheapest piece or stops", worked out from the pieces' own attacks, without any
// of the searcher's shortcuts.
func slowExchange(p *chess.Position, m chess.Move) int {
	taken, at := p.Captured(m)
	stands := p.Occupied() &^ chess.Bit(m.From())
	if at != chess.NoSquare {
		stands &^= chess.Bit(at)
	}
	gain, piece := worth[taken.Kind()], p.At(m.From()).Kind()
	if k := m.Promotion(); k != chess.NoKind {
		gain, piece = gain+worth[k]-worth[chess.Pawn], k
	}
	return gain - max(answer(p, m.To(), p.SideToMove().Other(), piece, stands), 0)
}

// answer is the gain of side from taking the piece on to, when pieces stand on stands.
func answer(p *chess.Position, to chess.Square, side chess.Color, piece chess.Kind, stands chess.Bitboard) int {
	from := cheapest(p, to, side, stands)
	if from == chess.NoSquare {
		return -1 << 20
	}
	k := p.At(from).Kind()
	if k == chess.King && cheapest(p, to, side.Other(), stands) != chess.NoSquare {
		return -1 << 20
	}
	return worth[piece] - max(answer(p, to, side.Other(), k, stands&^chess.Bit(from)), 0)
}

// cheapest is the square of the cheapest piece of side that attacks to.
func cheapest(p *chess.Position, to chess.Square, side chess.Color, stands chess.Bitboard) chess.Square {
	best := chess.NoSquare
	for pieces := stands & p.ByColor(side) &^ chess.Bit(to); pieces != 0; pieces &= pieces - 1 {
		s := pieces.First()
		k := p.At(s).Kind()
		hits := chess.Attacks(k, s, stands|chess.Bit(to))
		if k == chess.Pawn {
			hits = chess.PawnAttacks(side, s)
		}
		if hits.Has(to) && (best == chess.NoSquare || k < p.At(best).Kind()) {
			best = s
		}
	}
	return best
}

func TestExchangeAgainstTheSlowWay(t *testing.T) {
	n := 0
	randomPositions(t, 2, 30, func(p *chess.Position) {
		for _, m := range p.LegalMoves(nil) {
			want := slowExchange(p, m)
			for _, threshold := range []int{want - 1, want, want + 1, 0} {
				n++
				if got := exchange(p, m, threshold); got != (want >= threshold) {
					t.Fatalf("%s %s: gains %d, but at least %d is %v", p.FEN(), m, want, threshold, got)
				}
			}
		}
	})
	t.Logf("%d questions", n)
}

func TestExchangeByHand(t *testing.T) {
	for _, c := range []struct {
		fen, move string
		gain      int
	}{
		{"4k3/8/8/3p4/8/8/8/3RK3 w - - 0 1", "d1d5", 100},
		{"4k3/8/4p3/3p4/8/8/8/3RK3 w - - 0 1", "d1d5", 100 - 500},
		{"3rk3/8/8/3p4/8/8/3R4/3RK3 w - - 0 1", "d2d5", 100},
		{"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "e5d6", 100},
		{"1n2k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7b8q", 320 + 850},
	} {
		p := mustFEN(t, c.fen)
		m, err := p.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		if !exchange(&p, m, c.gain) || exchange(&p, m, c.gain+1) {
			t.Errorf("%s %s does not gain exactly %d", c.fen, c.move, c.gain)
		}
	}
}
