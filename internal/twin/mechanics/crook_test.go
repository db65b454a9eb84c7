// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// Half a degree moves the far corner by about 2.8 mm, one per cent by 1 % of
// the way from the switches.
func TestCrookedAxes(t *testing.T) {
	r := rig.Default()
	h8 := func(b Build) frame.Spot[frame.Board] {
		c, err := New(r, b)
		must(t, err)
		return c.Truly(r.MachineFromBoard().Apply(r.Board.Centre(7, 7).At(0)).Spot())
	}
	chance := func() *rand.Rand { return rand.New(rand.NewPCG(1, 1)) }
	true0 := h8(Build{})
	far := rig.Default().MachineFromBoard().Apply(true0.At(0)).Spot()
	if d := h8(Build{Skewed: chance()}).Distance(true0); math.Abs(d-skewAngle*far.Y) > 0.05e-3 {
		t.Errorf("skewed by %.2f mm at h8, want %.2f mm", d*1e3, skewAngle*far.Y*1e3)
	}
	d := h8(Build{Scaled: chance()}).Sub(true0)
	for i, v := range [2][2]float64{{d.X, far.X}, {d.Y, far.Y}} {
		if e := math.Abs(v[0] / v[1]); e > 1e-9 && math.Abs(e-scaleError) > 1e-6 {
			t.Errorf("axis %d goes wrong by %.4f of its way", i, e)
		}
	}
	if d == (frame.Spot[frame.Board]{}) {
		t.Error("no axis goes wrong")
	}
}
