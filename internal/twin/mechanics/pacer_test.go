// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/drive"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

type mark = frame.Spot[frame.Machine]

// ran is a stroke run to its end: where the motors were, step by step.
func ran(t *testing.T, r *rig.Rig, s motion.Stroke) []mark {
	t.Helper()
	p := newRun(r, s.Path[0], s, 1)
	out := []mark{s.Path[0]}
	for {
		at, more := p.Next()
		if !more {
			return out
		}
		if out = append(out, at); len(out) > 1e6 {
			t.Fatal("the stroke does not end")
		}
	}
}

// Working step by step, without a profile, the controller takes the time of
// the closed form: for long and short ways, along one axis.
func TestStraightStrokeIsTheSCurve(t *testing.T) {
	r := rig.Default()
	for _, c := range [][4]float64{{200, 120, 400, 4}, {50, 120, 400, 4}, {5, 100, 400, 4}, {1.3, 120, 400, 4}, {120, 60, 200, 1}} {
		l := drive.Limits{Speed: unit.Speed(c[1] * 1e-3), Acceleration: unit.Acceleration(c[2] * 1e-3), Jerk: unit.Jerk(c[3])}
		want, err := drive.SCurve(unit.MM(c[0]), l)
		must(t, err)
		at := ran(t, r, motion.Stroke{Path: []mark{{X: 0.05, Y: 0.1}, {X: 0.05 + c[0]*1e-3, Y: 0.1}}, Speed: l.Speed, Accel: l.Acceleration, Jerk: l.Jerk})
		if got := float64(len(at)-1) * Step; math.Abs(got-want.Duration()) > 0.015+0.005*want.Duration() {
			t.Errorf("%v: %.3f s, the closed form takes %.3f s", c, got, want.Duration())
		}
		for k, p := range at {
			if want := want.At(float64(k) * Step).Position; math.Abs(p.X-0.05-want) > 0.2e-3 {
				t.Fatalf("%v: %.2f mm after %.3f s, the closed form is at %.2f mm", c, (p.X-0.05)*1e3, float64(k)*Step, want*1e3)
			}
		}
	}
}

// Whatever the stroke: speeds, accelerations and the blend are kept, measured
// on the places alone.
func TestStrokesKeepTheirLimits(t *testing.T) {
	r := rig.Default()
	const seed = 4
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for n := range 60 {
		s := motion.Stroke{Path: []mark{{X: 0.15, Y: 0.15}}, Speed: 0.12, Accel: 0.4, Jerk: 4, Blend: 50e-6}
		for range 2 + rnd.IntN(12) {
			size := math.Exp(-2 - 4*rnd.Float64())
			sin, cos := math.Sincos(2 * math.Pi * rnd.Float64())
			last := s.Path[len(s.Path)-1]
			s.Path = append(s.Path, mark{X: min(max(last.X+size*cos, 0), 0.33), Y: min(max(last.Y+size*sin, 0), 0.33)})
		}
		if err := keeps(s, ran(t, r, s)); err != nil {
			t.Fatalf("stroke %d, %v: %v", n, s.Path, err)
		}
	}
}

// However fast a stroke may be along its path, neither axis exceeds its own
// speed, nor on a straight piece its own acceleration; and on a slope both
// together are faster than either.
func TestAxesKeepTheirOwnLimits(t *testing.T) {
	r := rig.Default()
	r.Axis.Y.Speed, r.Axis.Y.Acceleration, r.Axis.Y.Jerk = 0.08, 0.3, 6
	const seed = 5
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	axes, most, quickest := [2]rig.Axis{r.Axis.X, r.Axis.Y}, [2]float64{}, 0.0
	for range 60 {
		s := motion.Stroke{Path: []mark{{X: 0.15, Y: 0.15}}, Speed: 0.3, Accel: 1, Jerk: 20, Blend: 50e-6}
		for range 1 + rnd.IntN(5) {
			s.Path = append(s.Path, mark{X: 0.33 * rnd.Float64(), Y: 0.33 * rnd.Float64()})
		}
		at := ran(t, r, s)
		const h = 20
		for k := 2 * h; k < len(at); k++ {
			a, b, c := at[k-2*h], at[k-h], at[k]
			quickest = math.Max(quickest, c.Distance(b)/(h*Step))
			straight := offPath([]mark{a, c}, b) < 1e-9
			for i, p := range [2][3]float64{{a.X, b.X, c.X}, {a.Y, b.Y, c.Y}} {
				v, g := math.Abs(p[2]-p[1])/(h*Step), math.Abs(p[2]-2*p[1]+p[0])/(h*Step*h*Step)
				most[i] = math.Max(most[i], v/float64(axes[i].Speed))
				if v > float64(axes[i].Speed)*1.001 || straight && g > float64(axes[i].Acceleration)*1.02+3*creep/(h*Step) {
					t.Fatalf("%v: axis %s does %.1f mm/s and %.0f mm/s² after %.3f s", s.Path, AxisName(i), v*1e3, g*1e3, float64(k)*Step)
				}
			}
		}
	}
	t.Logf("axes at up to %.3f of their speeds, the carriage at %.1f mm/s", most, quickest*1e3)
	if most[0] < 0.99 || most[1] < 0.99 || quickest < 0.13 {
		t.Error("the axes are not used")
	}
}

// keeps checks places a step apart against the stroke's limits.
func keeps(s motion.Stroke, at []mark) error {
	const h = 20 // steps between the places compared
	for k := range at {
		if d := offPath(s.Path, at[k]); d > float64(s.Blend)+1e-7 {
			return fmt.Errorf("%.0f µm off the path", d*1e6)
		}
		if k < 2*h {
			continue
		}
		a, b, c := at[k-2*h], at[k-h], at[k]
		if v := c.Distance(b) / (h * Step); v > float64(s.Speed)*1.001 {
			return fmt.Errorf("%.1f mm/s", v*1e3)
		}
		if g := c.Sub(b).Sub(b.Sub(a)).Norm() / (h * Step * h * Step); g > math.Sqrt2*float64(s.Accel)*1.02+3*creep/(h*Step) {
			return fmt.Errorf("%.0f mm/s² after %.3f s", g*1e3, float64(k)*Step)
		}
	}
	if d := at[len(at)-1].Distance(s.Path[len(s.Path)-1]); d > 1e-9 {
		return fmt.Errorf("it ends %g m off", d)
	}
	for _, p := range s.Path {
		if d := offPath(at, p); d > float64(s.Blend)+1e-6 {
			return fmt.Errorf("it misses %v by %.0f µm", p, d*1e6)
		}
	}
	return nil
}

// offPath is the distance of c from a polyline.
func offPath(path []mark, c mark) float64 {
	least := math.Inf(1)
	for i := 1; i < len(path); i++ {
		d, e := path[i].Sub(path[i-1]), c.Sub(path[i-1])
		f := 0.0
		if n := d.Dot(d); n > 0 {
			f = max(0, min(1, d.Dot(e)/n))
		}
		least = min(least, e.Sub(d.Scale(f)).Norm())
	}
	return least
}
