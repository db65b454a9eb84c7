// SPDX-License-Identifier: Apache-2.0

package assess_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// The trial: the black king is carried from e2 up the line between d and e
// file to e7, close past standing magnetised pawns on both sides; then the
// lowered magnet runs straight under them.
const trialFEN = "7K/8/8/3pp3/3pp3/8/4k3/8 w - - 0 1"

// mechanical are the lines that the trial can bear out.
var mechanical = []string{"pull.", "drag.slip", "drag.surge", "drag.settle", "neighbours.", "lanes.foot", "tip.foot", "lift.contact", "drive.x", "drive.y", "reach.field"}

// trial runs a rig exactly as its file says on the simulated table and returns
// what went wrong, or "".
func trial(t *testing.T, r *rig.Rig) string {
	t.Helper()
	q, err := twin.NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &q, FEN: trialFEN, Visitor: true})
	if err != nil {
		return err.Error()
	}
	before := places(w)
	if err := drive(r, w); err != nil {
		return err.Error()
	}
	return verdict(r, w, before)
}

func places(w *twin.World) (out []frame.Spot[frame.Board]) {
	for _, m := range w.Truth().Pieces {
		out = append(out, m.At)
	}
	return out
}

func at(r *rig.Rig, file, rank float64) frame.Spot[frame.Board] {
	s := float64(r.Board.Square)
	return frame.Spot[frame.Board]{X: (file - 3.5) * s, Y: (rank - 3.5) * s}
}

// drive carries the king and runs back lowered under the pawns.
func drive(r *rig.Rig, w *twin.World) error {
	ctx := context.Background()
	home, err := w.Gantry().Home(ctx)
	if err != nil {
		return err
	}
	g := carry.NewGearing(r, r.MachineFromBoard())
	lead := float64(leadOf(r))
	from, to := at(r, 4, 1), at(r, 4, 6)
	lane1, lane2 := at(r, 3.5, 1.5), at(r, 3.5, 5.5)
	end := to.Sub(lane2)
	past := to.Add(end.Scale(lead / end.Norm()))
	for _, s := range []struct {
		raise bool
		path  []frame.Spot[frame.Board]
	}{
		{false, []frame.Spot[frame.Board]{g.Carriage(home), from}},
		{true, []frame.Spot[frame.Board]{from, lane1, lane2, past, to}},
		{false, []frame.Spot[frame.Board]{to, at(r, 4, 3), at(r, 3, 3), at(r, 3, 4), at(r, 4, 4)}},
	} {
		if s.raise {
			if err := w.Gantry().Lift(ctx, true); err != nil {
				return err
			}
		}
		step := plan.Step{Do: plan.Carry, Path: s.path, Speed: min(r.Axis.X.Speed, r.Axis.Y.Speed), Accel: min(r.Axis.X.Acceleration, r.Axis.Y.Acceleration)}
		if _, err := w.Gantry().Move(ctx, g.Stroke(step)); err != nil {
			return err
		}
		if s.raise {
			if err := w.Gantry().Lift(ctx, false); err != nil {
				return err
			}
		}
	}
	return nil
}

// leadOf reads the lead from the judgement's own drawing of the reach.
func leadOf(r *rig.Rig) unit.Length {
	d := assess.Begin(r, nil).Sides()[0]
	return d.Need - unit.Length(3.5)*r.Board.Square - unit.MM(0.5)
}

// verdict compares the table with what should be there.
func verdict(r *rig.Rig, w *twin.World, before []frame.Spot[frame.Board]) string {
	truth := w.Truth()
	c := truth.Counters
	if c.Collisions+c.Slips+c.Drags+c.Stalls+c.Toppled > 0 {
		return fmt.Sprintf("umpire: %+v", c)
	}
	for i, m := range truth.Pieces {
		want := before[i]
		limit := 0.5e-3
		if m.Piece.Kind() == chess.King && m.At.Distance(at(r, 7, 7)) > float64(r.Board.Square)/2 {
			want, limit = at(r, 4, 6), 0.06*float64(r.Board.Square)
		}
		if off := m.At.Distance(want); off > limit {
			return fmt.Sprintf("the %v ends %.1f mm off", m.Piece, off*1e3)
		}
	}
	return ""
}

// sweep draws a rig near the limits: exact remanences, hardly any warp.
func sweep(rng *rand.Rand) *rig.Rig {
	r := rig.Default()
	r.Board.Warp = unit.MM(0.02)
	r.Lift.Grade, r.Pieces.Magnet.Grade = "1.30 T", "1.30 T"
	pick := func(v ...float64) float64 { return v[rng.IntN(len(v))] }
	lower := [][2]float64{{6, 3}, {8, 4}, {10, 5}, {12, 5}, {15, 8}}[rng.IntN(5)]
	upper := [][2]float64{{4, 2}, {5, 2}, {6, 2}, {8, 3}}[rng.IntN(4)]
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(lower[0]), unit.MM(lower[1])
	r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(upper[0]), unit.MM(upper[1])
	r.Board.Thickness = unit.MM(pick(2, 3, 4, 5, 7, 9))
	r.Board.Square = unit.MM(pick(34, 38, 40, 44, 50))
	r.Board.Friction = pick(0.2, 0.3, 0.4)
	r.Board.Kinetic = 0.75 * r.Board.Friction
	r.Lift.Drop = unit.MM(pick(8, 12, 16, 25))
	heavier := pick(0.6, 1, 2)
	for _, k := range r.Pieces.Kinds().All() {
		m := r.Pieces.Of(k)
		m.Mass *= unit.Mass(heavier)
	}
	r.Axis.X.Travel, r.Axis.Y.Travel = unit.MM(440), unit.MM(440)
	r.Axis.X.Origin, r.Axis.Y.Origin = unit.MM(220), unit.MM(220)
	r.Walls.Left, r.Walls.Right, r.Walls.Front, r.Walls.Back = unit.MM(250), unit.MM(250), unit.MM(250), unit.MM(250)
	return r
}

// A rig passes if and only if the simulated table plays the trial clean. The table plays
// the rig as drawn. Lines that fail by their builds' reserve alone say so and do not count
// as failed there; those that fail as drawn carry allowances (place errors, all tolerances
// at once, pieces at their worst place), so such a rig may still play clean: those cases are
// listed with the line and its margin as drawn, and all but 3 in 100 must lie within what
// the allowances explain. No rig that passes may play foul. In the long run there are three
// hundred.
func TestJudgementAgreesWithTheTable(t *testing.T) {
	const seed = 17
	rigs, beyond, reserve := 50, 0, 0
	if os.Getenv("BOARDHAND_LONG") == "1" {
		rigs = 300
	}
	t.Log("seed", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	var table [2][2]int // judged fail, pass; table foul, clean
	for i := range rigs {
		r := sweep(rng)
		failed := failures(r)
		foul := trial(t, r)
		table[b(len(failed) == 0)][b(foul == "")]++
		name := fmt.Sprintf("rig %d (D%g×%g, D%g×%g, board %v, square %v, μ %g, drop %v, king %v)", i, r.Lift.Diameter.MM(), r.Lift.Thickness.MM(),
			r.Pieces.Magnet.Diameter.MM(), r.Pieces.Magnet.Thickness.MM(), r.Board.Thickness, r.Board.Square, r.Board.Friction, r.Lift.Drop, r.Pieces.Of(chess.King).Mass)
		switch {
		case len(failed) == 0 && foul != "":
			t.Errorf("%s passes, yet on the table: %s", name, foul)
		case len(failed) > 0 && foul == "":
			t.Logf("%s plays clean, though judged: %v", name, failed)
			if slices.ContainsFunc(failed, func(f string) bool { return !explained(f) }) {
				beyond++
			} else {
				reserve++
			}
		}
	}
	t.Logf("fail and play clean: %d by stated reserve, %d beyond it", reserve, beyond)
	if beyond*100 > 3*rigs {
		t.Errorf("%d of %d rigs fail and play clean by more than their reserve", beyond, rigs)
	}
	t.Logf("             foul  clean\n judged fail  %3d   %3d\n judged pass  %3d   %3d", table[0][0], table[0][1], table[1][0], table[1][1])
}

// explained says whether a failing line of a rig that played clean lies within
// its allowances.
func explained(f string) bool {
	var by float64
	var id string
	if n, err := fmt.Sscanf(f, "%s by %f", &id, &by); n == 2 && err == nil && by <= 0 {
		return true // as drawn it works; what its builds lack is stated
	}
	switch id {
	case "neighbours.raised", "neighbours.feet": // 1 mm for both places; 0.3 mm of motion goes unseen
		return by < 1.3
	case "lanes.foot": // 1 mm for both places and the spread of the lag
		return by < 1.6
	case "neighbours.lowered": // 0.3 mm of motion goes unseen
		return by < 0.5
	case "drag.settle": // a piece may rest anywhere in the spread, the middle too
		return true
	case "drag.surge": // gaps and remanences at their worst at once, and soft starts
		return by < 10
	}
	return false
}

func failures(r *rig.Rig) (out []string) {
	for _, c := range assess.Judge(r) {
		if c.Verdict == assess.Fail && slices.ContainsFunc(mechanical, func(p string) bool { return strings.HasPrefix(c.ID, p) }) {
			out = append(out, fmt.Sprintf("%s by %.2f %s", c.ID, -c.AsDrawn(), c.Unit))
		}
	}
	return out
}

func b(v bool) int {
	if v {
		return 1
	}
	return 0
}
