// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"
	"testing"

	planning "boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// drive moves a model of an axis with play along motor places: the carriage
// follows once the play is used up.
type loose struct{ motor, carriage, half float64 }

func (a *loose) to(m float64) {
	a.motor = m
	a.carriage = math.Max(m-a.half, math.Min(m+a.half, a.carriage))
}

// Random ways, driven through loose axes, end where they should.
func TestGearingTakesUpThePlay(t *testing.T) {
	r := rig.Default()
	rnd := seeded(t, 3)
	g := NewGearing(r, r.MachineFromBoard())
	half := g.Backlash[0] / 2
	axes := [2]loose{{0, half, half}, {0, half, half}} // homed: came from the far side
	at := g.Carriage(frame.Spot[frame.Machine]{})
	worst := 0.0
	for range 300 {
		path := []lanes.Spot{at}
		for range 1 + rnd.IntN(4) {
			path = append(path, lanes.Spot{X: (rnd.Float64() - 0.5) * 0.3, Y: (rnd.Float64() - 0.5) * 0.3})
		}
		if rnd.IntN(2) == 0 {
			path = trajectory.Lead(path, Limits{Lead: 0.0013, Back: rnd.IntN(2) == 0})
		}
		k := g.Stroke(Step{Path: path})
		for _, m := range k.Path {
			axes[0].to(m.X)
			axes[1].to(m.Y)
		}
		end := g.MachineFromBoard.Inverse().Apply(frame.Spot[frame.Machine]{X: axes[0].carriage, Y: axes[1].carriage})
		at = path[len(path)-1]
		worst = math.Max(worst, end.Distance(at))
		if got := g.Carriage(k.Path[len(k.Path)-1]); got.Distance(at) > 1e-9 {
			t.Fatalf("the gearing thinks it ended at %v, not %v", got, at)
		}
	}
	if worst > 1e-6 {
		t.Errorf("a way ended %g m off", worst)
	}
}

// Half way, too, the carriage is no further off than half the play.
func TestGearingStaysNearThePath(t *testing.T) {
	r := rig.Default()
	g := NewGearing(r, r.MachineFromBoard())
	half := g.Backlash[0] / 2
	axes := [2]loose{{0, half, half}, {0, half, half}}
	path := []lanes.Spot{g.Carriage(frame.Spot[frame.Machine]{}), {X: 0.05, Y: 0.02}, {X: 0.01, Y: 0.06}, {X: 0.08, Y: 0.06}}
	k := g.Stroke(Step{Path: path})
	prev := k.Path[0]
	for _, m := range k.Path[1:] {
		for i := range 200 {
			f := float64(i+1) / 200
			axes[0].to(prev.X + f*(m.X-prev.X))
			axes[1].to(prev.Y + f*(m.Y-prev.Y))
			c := g.MachineFromBoard.Inverse().Apply(frame.Spot[frame.Machine]{X: axes[0].carriage, Y: axes[1].carriage})
			if _, d := nearestOn(path, c); d > 2*half*math.Sqrt2+1e-9 {
				t.Fatalf("%g m off the way at %v", d, c)
			}
		}
		prev = m
	}
}

// On a machine whose axes are not square the switches lie outside of what plans keep to.
// Its entry leads inside, so far that whole counts leave it there, and moves are planned from there.
func TestEntryLeadsInside(t *testing.T) {
	r := rig.Default()
	r.Built = &rig.Built{MachineFromBoard: frame.Built[frame.Machine, frame.Board]([2]float64{1.012, 0.988}, 0.0122, -0.0087, frame.Spot[frame.Machine]{X: 0.1704, Y: 0.1662}),
		Backlash: [2]float64{0.8e-3, 0.8e-3}, Inside: frame.Rect[frame.Board]{Min: lanes.Spot{X: -0.164, Y: -0.163}, Max: lanes.Spot{X: 0.162, Y: 0.161}}}
	g := GearingOf(r)
	s, ok := g.Entry()
	if !ok || s.Path[0] != g.Carriage(frame.Spot[frame.Machine]{}) {
		t.Fatalf("no entry from the switches: %+v", s)
	}
	to := s.Path[1].Sub(lanes.Spot{X: 0.07e-3, Y: 0.07e-3}) // as whole counts tell it
	if !r.Built.Inside.Holds(to) {
		t.Errorf("it ends at %v", to)
	}
	p, err := NewPlanner(r)
	if err != nil {
		t.Fatal(err)
	}
	pos := position(t, "rnbqkbnr/pppppppp/8/8/P7/8/1PPPPPPP/RNBQKBNR b KQkq - 0 1")
	sc := planning.Scene{Carriage: to}
	for q := range chess.NoSquare {
		if piece := pos.At(q); piece != chess.NoPiece {
			sc.Pieces = append(sc.Pieces, p.Stand(piece, q, p.Centre(q)))
		}
	}
	var knight chess.Move
	for _, m := range pos.LegalMoves(nil) {
		if m.String() == "b8c6" {
			knight = m
		}
	}
	got, err := p.Move(t.Context(), sc, pos, knight)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range got.Steps {
		if s.Do == "ask" {
			t.Errorf("the plan asks: %s", s.Text)
		}
	}
	if g, ok := GearingOf(rig.Default()).Entry(); ok {
		t.Errorf("a machine as drawn: %+v", g)
	}
}
