// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// A piece of a rig whose friction, magnets and gap were written into its file rests where the
// slopes of both ends say, to a tenth of what they move it.
func TestEndsAreThoseOfAnotherRig(t *testing.T) {
	const lead = 1.3e-3
	rest := func(change func(*rig.Rig, *Coupling)) [2]End {
		r := rig.Default()
		c, err := Of(r)
		if err != nil {
			t.Fatal(err)
		}
		change(r, &c)
		c.Spread.Near, c.Spread.Far = r.Gap(), r.Gap()
		ends, err := c.Ends(game.King, lead, Off{Friction: 0.1, Strength: 0.1, Gap: 0.2e-3})
		if err != nil {
			t.Fatal(err)
		}
		return ends
	}
	is := rest(func(*rig.Rig, *Coupling) {})
	for name, w := range map[string]struct {
		change func(*rig.Rig, *Coupling, float64)
		slope  func(End) float64
		by     float64
	}{
		"friction": {func(r *rig.Rig, _ *Coupling, d float64) { r.Board.Friction *= 1 + d; r.Board.Kinetic *= 1 + d }, func(e End) float64 { return e.Friction }, 0.1},
		"magnets":  {func(_ *rig.Rig, c *Coupling, d float64) { c.Pair.Lower.Br /= unit.FluxDensity(1 + d); c.Pull = c.Pair }, func(e End) float64 { return e.Strength }, 0.1},
		"gap":      {func(r *rig.Rig, _ *Coupling, d float64) { r.Board.Thickness += unit.Length(d) }, func(e End) float64 { return e.Gap }, 0.2e-3},
	} {
		for i := range is {
			d := w.by * float64(2*i-1)
			got := rest(func(r *rig.Rig, c *Coupling) { w.change(r, c, d) })[i].At
			if want := is[i].At + w.by*w.slope(is[i]); !(math.Abs(got-want) <= 0.1*math.Abs(want-is[i].At)+1e-7) {
				t.Errorf("%s: end %d at %.4f mm, by the slope at %.4f, as drawn at %.4f", name, i, got*1e3, want*1e3, is[i].At*1e3)
			}
		}
	}
	if !(is[1].Friction > 0 && is[0].Friction > 0) {
		t.Errorf("more friction leaves a piece %+.3g m farther behind, less %+.3g m nearer", is[1].Friction, is[0].Friction)
	}
}

// The worst grasp is pull over friction there, and falls with the gap as that of a rig with a
// thicker board does.
func TestGraspFallsWithTheGap(t *testing.T) {
	grasp := func(thicker float64) Grasp {
		r := rig.Default()
		r.Board.Thickness += unit.Length(thicker)
		c, err := Of(r)
		if err != nil {
			t.Fatal(err)
		}
		g, err := c.Grasp()
		if err != nil {
			t.Fatal(err)
		}
		p, err := c.Pair.At(float64(r.Gap()), float64(g.At))
		if err != nil {
			t.Fatal(err)
		}
		friction := r.Board.Friction * (float64(r.Pieces.Of(g.Kind).Mass)*9.80665 + c.Spread.Weak*p.Axial)
		if want := c.Spread.Weak * p.Lateral / friction; math.Abs(g.Ratio/want-1) > 1e-6 || g.Kind != game.King {
			t.Errorf("%v is held with %.4f times its friction, the king by hand with %.4f", g.Kind, g.Ratio, want)
		}
		return g
	}
	a, b := grasp(0), grasp(0.2e-3)
	if want := math.Log(a.Ratio/b.Ratio) / 0.2e-3; math.Abs(a.Slope/want-1) > 0.1 {
		t.Errorf("the grip falls by %.1f a metre, with a thicker board by %.1f", a.Slope, want)
	}
}
