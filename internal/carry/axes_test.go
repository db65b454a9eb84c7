// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"math"
	"testing"
)

// turnTogether is by how much an axis may pass its acceleration where the
// carriage gains speed and turns at once: seen for four stamps in a hundred
// thousand, half of what the motors' reserve of half as much again covers.
const turnTogether = 0.25

// Plans for positions from games, round neighbours as well: each axis keeps to
// its own acceleration, on bends too. (Speed everywhere, and jerk where the way
// is straight, the validator of every plan sees to.)
func TestPlansKeepEachAxisToItsOwn(t *testing.T) {
	rnd := seeded(t, 8)
	turns := turnsFromGames(t, rnd, 150)
	for _, base := range []float64{0.30, 0.45, 0.60} {
		p := planner(t, withBases(base))
		worst := 0.0
		for _, u := range turns {
			plan, err := p.Move(context.Background(), p.scene(&u.pos, rnd, 0.12), u.pos, u.move)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range plan.Steps {
				d := p.limits.Travel
				if s.Do == Carry {
					d = p.limits.Carry
				}
				r := s.Trajectory()
				for k := 2; k < len(r); k++ {
					h := r[1].Time
					ax, ay := r[k].At.X-2*r[k-1].At.X+r[k-2].At.X, r[k].At.Y-2*r[k-1].At.Y+r[k-2].At.Y
					worst = math.Max(worst, math.Max(math.Abs(ax)/d.Axes[0].Accel, math.Abs(ay)/d.Axes[1].Accel)/(h*h))
				}
			}
		}
		t.Logf("base %.2f: an axis gains up to %.3f of what it can", base, worst)
		if worst > 1+turnTogether || worst < 0.99 {
			t.Errorf("base %.2f: an axis gains up to %.3f of what it can", base, worst)
		}
	}
}
