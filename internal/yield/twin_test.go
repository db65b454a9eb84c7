// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"context"
	"math/rand/v2"
	"os"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// The black king is carried from e2 up the line between d and e file to e7, close past
// standing magnetised pawns; then the lowered magnet runs straight under them.
const trialFEN = "7K/8/8/3pp3/3pp3/8/4k3/8 w - - 0 1"

// played is what a trial can show: which of these lines failed on the simulated table.
var played = []string{"pull.hold", "drag.settle", "neighbours.raised and feet", "neighbours.lowered", "drag.slip and surge"}

// nearLimits are machines of which some builds fail one of the lines.
var nearLimits = map[string]func(*rig.Rig){
	"grip": func(r *rig.Rig) { r.Board.Thickness = unit.MM(9.8) },
	"rest": func(r *rig.Rig) { r.Board.Thickness = unit.MM(9.2) },
	"drop": func(r *rig.Rig) { r.Lift.Drop = unit.MM(7.6) },
	"lane": func(r *rig.Rig) {
		r.Board.Square, r.Board.Friction, r.Board.Kinetic = unit.MM(27), 0.24, 0.18
		for _, k := range r.Pieces.Kinds().All() {
			r.Pieces.Of(k).Base = unit.MM(10)
		}
	},
	"strong": func(r *rig.Rig) {
		r.Lift.Diameter, r.Lift.Thickness, r.Lift.Drop = unit.MM(12), unit.MM(5), unit.MM(16)
	},
}

func at(r *rig.Rig, file, rank float64) frame.Spot[frame.Board] {
	s := float64(r.Board.Square)
	return frame.Spot[frame.Board]{X: (file - 3.5) * s, Y: (rank - 3.5) * s}
}

// trial plays a build on the simulated table, with the lead that the machine as drawn
// plans, and says which of the lines failed.
func trial(t *testing.T, m *Model, r *rig.Rig) (failed [5]bool) {
	t.Helper()
	ctx := context.Background()
	q, err := twin.NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &q, FEN: trialFEN, Visitor: true})
	if err != nil {
		t.Fatal(err)
	}
	home, err := w.Gantry().Home(ctx)
	if err != nil {
		t.Fatal(err)
	}
	g := carry.NewGearing(r, r.MachineFromBoard())
	ride := func(path ...frame.Spot[frame.Board]) {
		step := plan.Step{Do: plan.Carry, Path: path, Speed: min(r.Axis.X.Speed, r.Axis.Y.Speed), Accel: min(r.Axis.X.Acceleration, r.Axis.Y.Acceleration)}
		if _, err := w.Gantry().Move(ctx, g.Stroke(step)); err != nil {
			t.Fatal(err)
		}
	}
	from, to, lane1, lane2 := at(r, 4, 1), at(r, 4, 6), at(r, 3.5, 1.5), at(r, 3.5, 5.5)
	end := to.Sub(lane2)
	ride(g.Carriage(home), from)
	stood := pawns(w)
	lift(t, w, true)
	ride(from, lane1, lane2, to.Add(end.Scale(m.lead/end.Norm())))
	lift(t, w, false)
	off := king(w, r).Distance(to)
	failed[0] = off > 0.5*float64(r.Board.Square)
	failed[4] = failed[0]
	failed[1] = !failed[0] && off > settleShare*float64(r.Board.Square)
	failed[2] = moved(stood, pawns(w))
	stood = pawns(w)
	ride(to, at(r, 4, 3), at(r, 3, 3), at(r, 3, 4), at(r, 4, 4))
	failed[3] = moved(stood, pawns(w))
	return failed
}

func lift(t *testing.T, w *twin.World, up bool) {
	t.Helper()
	if err := w.Gantry().Lift(context.Background(), up); err != nil {
		t.Fatal(err)
	}
}

func pawns(w *twin.World) (out []frame.Spot[frame.Board]) {
	for _, p := range w.Truth().Pieces {
		if p.Piece.Kind() == chess.Pawn {
			out = append(out, p.At)
		}
	}
	return out
}

// king is where the black king stands: the white one stays in its corner.
func king(w *twin.World, r *rig.Rig) (out frame.Spot[frame.Board]) {
	for _, p := range w.Truth().Pieces {
		if p.Piece.Kind() == chess.King && p.At.Distance(at(r, 7, 7)) > float64(r.Board.Square)/2 {
			out = p.At
		}
	}
	return out
}

// moved says whether a piece stands elsewhere, by what an eye sees.
func moved(was, now []frame.Spot[frame.Board]) bool {
	for i := range was {
		if was[i].Distance(now[i]) > 0.3e-3 {
			return true
		}
	}
	return false
}

// predicted is which of the lines a build fails. Those that the grip leaves open do not
// count.
func predicted(m *Model, x *build) (failed [5]bool) {
	b := bench{Model: m}
	v := b.margins(x, nil2(m))
	return [5]bool{v[hold] < 0, v[settle] < 0, v[raised] < 0 || v[feet] < 0, v[lowered] < 0, v[slip] < 0 || v[surge] < 0}
}

// Builds near the limits fail on the simulated table the lines that they are said to fail.
// The judgement errs on the safe side only: it takes pieces to rest at the worst place of a
// swing, a carried base to pass at the worst one, and a piece that lags at the start of a
// carry to be lost, where most catch up once the carriage gains speed no more. In the long run there are two hundred.
func TestAgainstTheTable(t *testing.T) {
	each := 2
	if os.Getenv("BOARDHAND_LONG") == "1" {
		each = 40
	}
	var table [5][2][2]int // line; judged to work, to fail; played clean, foul
	for name, change := range nearLimits {
		m := modelOf(t, func(r *rig.Rig) {
			change(r)
			r.Board.Warp = unit.MM(0.02)
			r.Axis.X.Travel, r.Axis.Y.Travel = unit.MM(440), unit.MM(440)
			r.Axis.X.Origin, r.Axis.Y.Origin = unit.MM(220), unit.MM(220)
			r.Walls.Left, r.Walls.Right, r.Walls.Front, r.Walls.Back = unit.MM(250), unit.MM(250), unit.MM(250), unit.MM(250)
		})
		chance := rand.New(rand.NewPCG(17, uint64(len(name))))
		for range each {
			x, r := drawn(m, chance)
			said, shown := predicted(m, x), trial(t, m, r)
			for i := range said {
				switch {
				case i == 0 && said[4] && !said[0]: // the grip is enough, and the start is not
					continue
				case shown[0] && (i == 1 || i == 2) || said[0] && i != 0: // a king that was lost tells nothing of the rest
					continue
				}
				table[i][b2i(said[i])][b2i(shown[i])]++
				if !said[i] && shown[i] {
					t.Logf("%s: %s fails on the table and not here (margins %.3f)", name, played[i], (&bench{Model: m}).margins(x, nil2(m)))
				}
			}
		}
	}
	for i, name := range played {
		clean, foul := table[i][0], table[i][1]
		n := clean[0] + clean[1]
		t.Logf("%s: judged to work: %d clean, %d foul; judged to fail: %d clean, %d foul", name, clean[0], clean[1], foul[0], foul[1])
		if isExact := i == 0 || i == 3; isExact && foul[0]*33 > n {
			t.Errorf("%s: %d of %d builds that were said to fail played clean", name, foul[0], n)
		}
		if clean[1]*33 > n {
			t.Errorf("%s: %d of %d builds that were said to work failed", name, clean[1], n)
		}
	}
}

func b2i(v bool) int {
	if v {
		return 1
	}
	return 0
}
