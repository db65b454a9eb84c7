// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

func seeded(t testing.TB, seed uint64) *rand.Rand {
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 11))
}

func planner(t testing.TB, change func(*rig.Rig)) *Planner {
	t.Helper()
	r := rig.Default()
	if change != nil {
		change(r)
	}
	p, err := NewPlanner(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// measured is how exactly a reader measures a piece's place, metres.
const measured = 0.3e-3

// scene sets up a position with pieces up to offset (a share of the square) off
// the middle.
func (p *Planner) scene(pos *chess.Position, rnd *rand.Rand, offset float64) Scene {
	s := Scene{Carriage: lanes.Spot{X: 0, Y: -3 * p.side}}
	for sq := chess.Square(0); sq < 64; sq++ {
		if piece := pos.At(sq); piece != chess.NoPiece {
			m := p.piece(piece, sq)
			m.Sigma = measured
			if offset > 0 {
				a, d := rnd.Float64()*2*math.Pi, offset*p.side*math.Sqrt(rnd.Float64())
				m.At.X, m.At.Y = m.At.X+d*math.Cos(a), m.At.Y+d*math.Sin(a)
			}
			s.Pieces = append(s.Pieces, m)
		}
	}
	return s
}

func position(t testing.TB, fen string) chess.Position {
	t.Helper()
	p, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// played is a position after some random moves, with the given side to move.
func played(rnd *rand.Rand, side chess.Color) chess.Position {
	for {
		pos := chess.Start()
		n := rnd.IntN(100)
		for range n {
			moves := pos.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			pos.Make(moves[rnd.IntN(len(moves))])
		}
		if pos.SideToMove() == side && len(pos.LegalMoves(nil)) > 0 {
			return pos
		}
	}
}

func TestEveryRandomMoveIsPlannedAndChecked(t *testing.T) {
	p := planner(t, nil)
	t.Logf("limits %+v", p.limits)
	rnd := seeded(t, 1)
	asks, asides, doubts := 0, 0, 0
	var took []time.Duration
	const n = 1000
	for range n {
		pos := played(rnd, chess.Black)
		moves := pos.LegalMoves(nil)
		m := moves[rnd.IntN(len(moves))]
		s := p.scene(&pos, rnd, 0.12)
		start := time.Now()
		plan, err := p.Move(context.Background(), s, pos, m)
		took = append(took, time.Since(start))
		if err != nil {
			t.Fatalf("%s %v: %v", pos.FEN(), m, err)
		}
		if plan.Doubt != "" {
			t.Errorf("%s %v: %s", pos.FEN(), m, plan.Doubt)
			doubts++
		}
		if _, sq := pos.Captured(m); sq < chess.NoSquare {
			asks--
		}
		asks += plan.Asks()
		asides += plan.Asides
	}
	slices.Sort(took)
	t.Logf("%d moves: %d questions beyond removals, %d step-asides, %d doubts; planning median %v, 99 %% %v",
		n, asks, asides, doubts, took[n/2], took[n*99/100])
}

// long says whether the long runs were asked for.
func long() bool { return os.Getenv("BOARDHAND_LONG") == "1" }
