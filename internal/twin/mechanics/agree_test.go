// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// The controller, working step by step, drives what the plan says: it is where
// the plan's ride has the carriage, and takes the time that the plan predicts.
// The two share no law of motion: the ride is a chain of closed S-curves.
func TestControllerDrivesThePlansTrajectory(t *testing.T) {
	r := rig.Default()
	r.Axis.X.Backlash, r.Axis.Y.Backlash = 0, 0
	for _, k := range r.Pieces.Kinds().All() {
		m := r.Pieces.Of(k)
		m.Base = 0.55 * r.Board.Square // so that many ways have bends
	}
	planner, err := carry.NewPlanner(r)
	must(t, err)
	const seed = 6
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	steps, bends, late, off, far := 0, 0, 0.0, 0.0, 0.0
	for range 60 {
		pos := chess.Start()
		for range 2 * rnd.IntN(30) {
			moves := pos.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			pos.Make(moves[rnd.IntN(len(moves))])
		}
		moves := pos.LegalMoves(nil)
		if len(moves) == 0 || pos.SideToMove() != chess.White {
			continue
		}
		pos.Make(moves[rnd.IntN(len(moves))])
		if moves = pos.LegalMoves(nil); len(moves) == 0 {
			continue
		}
		plan, err := planner.Move(context.Background(), sceneOf(planner, pos, rnd), pos, moves[rnd.IntN(len(moves))])
		must(t, err)
		g := carry.NewGearing(r, r.MachineFromBoard())
		for _, s := range plan.Steps {
			if trajectory := s.Trajectory(); len(trajectory) > 0 {
				at := ran(t, r, g.Stroke(s))
				steps++
				if len(s.Path) > 3 { // from, to and the lead beyond
					bends++
				}
				late = math.Max(late, math.Abs(float64(len(at)-1)*Step-trajectory[len(trajectory)-1].Time)/trajectory[len(trajectory)-1].Time)
				a, b := apart(r, at, trajectory)
				off, far = math.Max(off, a), math.Max(far, b)
			}
		}
	}
	if bends < 10 {
		t.Errorf("only %d of the ways have bends", bends)
	}
	t.Logf("%d steps, %d with bends: at most %.1f %% other time, %.2f mm from the ride, %.2f mm from where the ride is then", steps, bends, 100*late, off*1e3, far*1e3)
	if late > 0.05 || off > 0.03e-3 {
		t.Errorf("the machine takes up to %.1f %% other time than planned and leaves the ride by %.3f mm", 100*late, off*1e3)
	}
}

// sceneOf sets a position up with pieces askew.
func sceneOf(p *carry.Planner, pos chess.Position, rnd *rand.Rand) plan.Scene {
	var s plan.Scene
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if piece := pos.At(q); piece != chess.NoPiece {
			at := p.Centre(q).Add(frame.Spot[frame.Board]{X: 0.003 * rnd.NormFloat64(), Y: 0.003 * rnd.NormFloat64()})
			s.Pieces = append(s.Pieces, p.Stand(piece, q, at))
		}
	}
	return s
}

// apart is how far places a step apart are from a ride, and from where the
// ride has the carriage at the same time.
func apart(r *rig.Rig, at []mark, trajectory []plan.Sample) (off, far float64) {
	line := make([]mark, len(trajectory))
	for i, s := range trajectory {
		line[i] = r.MachineFromBoard().Apply(s.At.At(0)).Spot()
	}
	for k := 0; k < len(at); k += 20 {
		off = math.Max(off, offPath(line, at[k]))
	}
	for i, s := range trajectory {
		if k := int(s.Time/Step + 0.5); k < len(at) {
			far = math.Max(far, line[i].Distance(frame.Spot[frame.Machine](at[k])))
		}
	}
	return off, far
}
