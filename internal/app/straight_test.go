// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// overrun is a gantry whose first stroke with the magnet raised runs on a
// little beyond its end, and says so.
type overrun struct {
	table.Gantry
	by     frame.Spot[frame.Machine] // m
	raised bool
	done   bool
	then   func() // called when that stroke has ended
}

// Lift notes whether a piece is held.
func (g *overrun) Lift(ctx context.Context, raised bool) error {
	g.raised = raised
	return g.Gantry.Lift(ctx, raised)
}

// Move runs the stroke.
func (g *overrun) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	if !g.raised || g.done || len(s.Path) == 0 {
		return g.Gantry.Move(ctx, s)
	}
	g.done = true
	end := s.Path[len(s.Path)-1]
	s.Path = append(append([]frame.Spot[frame.Machine]{}, s.Path...), frame.Spot[frame.Machine]{X: end.X + g.by.X, Y: end.Y + g.by.Y})
	at, err := g.Gantry.Move(ctx, s)
	g.then()
	return at, err
}

// A piece that comes to rest off its square's centre is set straight by a second
// plan, unasked: it ends within 3 % of the square of it, and the game goes on.
func TestSetStraight(t *testing.T) {
	r := rig.Default()
	side := float64(r.Board.Square)
	for i, by := range []frame.Spot[frame.Machine]{{X: 0.18}, {Y: 0.18}, {X: -0.2, Y: 0.15}, {X: -0.12, Y: -0.16}} {
		t.Run(fmt.Sprintf("%+.2f%+.2f", by.X, by.Y), func(t *testing.T) {
			start := chess.Start()
			pos := start.After(move(t, start, "e2e4"))
			m := move(t, pos, "b8c6")
			var off float64 // how far off it stood at first, of the square
			var world *twin.World
			g := &overrun{by: frame.Spot[frame.Machine]{X: by.X * side, Y: by.Y * side}, then: func() { off = astray(t, world, r, m.To()) / side }}
			ref, asked := playOne(t, oneGame{rig: r, pos: pos, move: m, seed: int64(i + 1), gantry: func(w *twin.World) table.Gantry {
				g.Gantry, world = w.Gantry(), w
				return g
			}})
			if off < 0.06 {
				t.Fatalf("it stood only %.1f %% of the square off: nothing to set straight", 100*off)
			}
			if end := astray(t, world, r, m.To()) / side; end > 0.03 {
				t.Errorf("at first %.1f %% of the square off, it ends %.1f %% off; at most 3 %% are wanted\n%s", 100*off, 100*end, ref.Log())
			} else {
				t.Logf("at first %.1f %% of the square off, in the end %.1f %%", 100*off, 100*end)
			}
			if ref.Tally().Recovered != 1 || !strings.Contains(ref.Log(), "stood off centre; adjusted") {
				t.Errorf("%d times set straight, want once:\n%s", ref.Tally().Recovered, ref.Log())
			}
			if len(asked) > 0 {
				t.Errorf("somebody was asked: %q", asked)
			}
		})
	}
}

// astray is how far the piece on a square truly stands from its centre, m.
func astray(t *testing.T, w *twin.World, r *rig.Rig, q chess.Square) float64 {
	t.Helper()
	for _, m := range w.Truth().Pieces {
		if m.OnBoard && m.Square == q {
			return m.At.Distance(r.Board.Centre(q.File(), q.Rank()))
		}
	}
	t.Errorf("no piece stands on %v", q)
	return math.Inf(1)
}

func move(t *testing.T, pos chess.Position, uci string) chess.Move {
	t.Helper()
	m, err := pos.ParseUCI(uci)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
