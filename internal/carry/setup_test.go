// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// withTrays is the default machine with a tray beside each long edge, wide
// enough axes to reach it, and magnets in all bases: 5 mm ones, which leave each
// other alone in a tray at 20 mm.
func withTrays(r *rig.Rig) {
	r.Pieces.Carried = "both"
	r.Pieces.Magnet.Diameter = 0.005
	r.Board.Border = 0.060
	r.Removal = rig.Removal{Mode: "tray", Slots: 16, Gap: 0.040}
	r.Axis.X.Travel, r.Axis.X.Origin = 0.440, 0.220
	r.Walls.Left, r.Walls.Right = 0.260, 0.260
}

// finished is a scene after a random game without promotion in which captured
// pieces went to free slots.
func (p *Planner) finished(rnd *rand.Rand, plies int) Scene {
	pos := chess.Start()
	s := p.scene(&pos, rnd, 0)
	for range plies {
		moves := slices.DeleteFunc(pos.LegalMoves(nil), func(m chess.Move) bool { return m.Promotion() != chess.NoKind })
		if len(moves) == 0 {
			break
		}
		m := moves[rnd.IntN(len(moves))]
		p.byHand(&s, &pos, m, rnd)
		pos.Make(m)
	}
	for i := range s.Pieces {
		if s.Pieces[i].Square < chess.NoSquare {
			s.Pieces[i].At = s.Pieces[i].At.Add(lanes.Spot{X: (rnd.Float64() - 0.5) * 0.1 * p.side, Y: (rnd.Float64() - 0.5) * 0.1 * p.side})
		}
	}
	return s
}

// byHand changes the scene as if the move had been made; a captured piece goes
// to the slot that a plan would choose.
func (p *Planner) byHand(s *Scene, pos *chess.Position, m chess.Move, rnd *rand.Rand) {
	d := p.builder(*s)
	if _, sq := pos.Captured(m); sq < chess.NoSquare {
		k := d.on(sq)
		if free := d.freeSlots(k); len(free) > 0 {
			d.pieces[k].At, d.pieces[k].Square = free[0], chess.NoSquare
		} else {
			d.remove(k)
		}
	}
	put := func(from, to chess.Square) {
		k := d.on(from)
		d.pieces[k].At, d.pieces[k].Square = p.Centre(to), to
	}
	put(m.From(), m.To())
	if pos.IsCastling(m) {
		from, to := pos.RookMove(m)
		put(from, to)
	}
	s.Pieces = d.pieces
}

func TestSetUpFromFinalPositions(t *testing.T) {
	p := planner(t, withTrays)
	rnd := seeded(t, 6)
	n := 20
	if testing.Short() {
		n = 5
	}
	if long() {
		n = 200
	}
	var ratios []float64
	asks, asides := 0, 0
	var slowest time.Duration
	for range n {
		s := p.finished(rnd, 20+rnd.IntN(120))
		began := time.Now()
		plan, bound, err := p.SetUp(context.Background(), s)
		slowest = max(slowest, time.Since(began))
		if err != nil {
			t.Fatal(err)
		}
		asks, asides = asks+plan.Asks(), asides+plan.Asides
		if bound > 0 {
			ratios = append(ratios, float64(plan.Time)/bound)
		}
		if float64(plan.Time) < bound-1e-9 {
			t.Errorf("%.1f s is less than the bound of %.1f s", float64(plan.Time), bound)
		}
	}
	slices.Sort(ratios)
	t.Logf("%d set-ups: %d questions, %d step-asides; time over the lower bound: median %.3f, worst %.3f; planning at most %v",
		n, asks, asides, ratios[len(ratios)/2], ratios[len(ratios)-1], slowest)
	if asks > 0 {
		t.Errorf("%d questions, want none with trays and magnets in all bases", asks)
	}
}
