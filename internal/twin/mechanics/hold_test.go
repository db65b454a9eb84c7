// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// A run that is held anywhere comes to rest on its way within the limits of its stroke,
// stands there, and ends where it should.
func TestHeldRunsKeepTheirLimits(t *testing.T) {
	r := rig.Default()
	const seed = 6
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	stood := 0
	for range 40 {
		s := motion.Stroke{Path: []mark{{X: 0.15, Y: 0.15}}, Speed: 0.12, Accel: 0.4, Jerk: 4, Blend: 50e-6}
		for range 1 + rnd.IntN(4) {
			sin, cos := math.Sincos(2 * math.Pi * rnd.Float64())
			last := s.Path[len(s.Path)-1]
			s.Path = append(s.Path, mark{X: min(max(last.X+0.1*cos, 0), 0.33), Y: min(max(last.Y+0.1*sin, 0), 0.33)})
		}
		p := newRun(r, s.Path[0], s, 1)
		at, hold := []mark{s.Path[0]}, 1+rnd.IntN(2500)
		for k := 0; ; k++ {
			switch k {
			case hold:
				p.Hold()
			case hold + 1200: // 0.6 s: from the full speed it takes 0.4 s
				if p.leg < len(p.legs) && !p.IsStanding() {
					t.Fatalf("%v: held after %d steps it still moves", s.Path, hold)
				}
				if p.IsStanding() {
					stood++
				}
			case hold + 1600:
				p.Resume()
			}
			to, more := p.Next()
			if !more {
				break
			}
			at = append(at, to)
		}
		if err := keeps(s, at); err != nil {
			t.Fatalf("%v, held after %d steps: %v", s.Path, hold, err)
		}
	}
	if stood < 30 {
		t.Errorf("only %d runs stood", stood)
	}
}
