// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/validate"
	scurve "boardhand/internal/drive"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

func seeded(t testing.TB, seed uint64) *rand.Rand {
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 11))
}

// evenAxes are two like axes, and a path that both serve.
var evenAxes = plan.Drive{Most: plan.Bounds{Speed: 0.17, Accel: 0.5, Jerk: 4},
	Axes: [2]plan.Bounds{{Speed: 0.12, Accel: 0.4, Jerk: 4}, {Speed: 0.12, Accel: 0.4, Jerk: 4}}}

func someBounds(rnd *rand.Rand) plan.Bounds {
	some := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rnd.Float64()) }
	return plan.Bounds{Speed: some(0.01, 1), Accel: some(0.05, 5), Jerk: some(0.5, 50)}
}

// someDrive has axes of different strength.
func someDrive(rnd *rand.Rand) plan.Drive {
	d := plan.Drive{Most: someBounds(rnd), Axes: [2]plan.Bounds{someBounds(rnd), someBounds(rnd)}}
	for _, p := range []*plan.Bounds{&d.Most, &d.Axes[0], &d.Axes[1]} {
		p.Jerk = math.Max(p.Jerk, p.Accel) // a second to full acceleration at most
	}
	return d
}

// A straight ride is the S-curve of the closed form, at every moment.
func TestStraightTrajectoryIsTheSCurve(t *testing.T) {
	rnd := seeded(t, 21)
	for range 300 {
		p, length := someBounds(rnd), 0.5*math.Pow(rnd.Float64(), 3)+1e-5
		want, err := scurve.SCurve(unit.Length(length), scurve.Limits{Speed: unit.Speed(p.Speed), Acceleration: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk)})
		if err != nil {
			t.Fatal(err)
		}
		trajectory := Samples([]spot{{}, {X: length}}, plan.Drive{Most: p, Axes: [2]plan.Bounds{p, p}})
		if got := trajectory[len(trajectory)-1].Time; math.Abs(got-want.Duration()) > 1e-6*got {
			t.Fatalf("%g m at %+v: %g s, the closed form takes %g s", length, p, got, want.Duration())
		}
		for _, s := range trajectory {
			if d := s.At.X - want.At(s.Time).Position; math.Abs(d) > 1e-6*length+1e-12 {
				t.Fatalf("%g m at %+v: %g m off the closed form after %g s", length, p, d, s.Time)
			}
		}
	}
}

// One corner of any angle: the arc leaves it by the blend exactly, where the
// legs are long enough, and has the radius that plane geometry gives.
func TestCornerIsRoundedByTheBlend(t *testing.T) {
	for deg := 2.0; deg < 160; deg += 3 {
		turn := deg * math.Pi / 180
		corner := spot{X: 0.1}
		tr := segmented([]spot{{}, corner, ahead(corner, turn, 0.1)}, float64(motion.Blend))
		if len(tr) != 1 || len(tr[0]) != 3 {
			t.Fatalf("%v degrees: %v", deg, tr)
		}
		arc := tr[0][1]
		if want := float64(motion.Blend) * math.Cos(turn/2) / (1 - math.Cos(turn/2)); math.Abs(arc.radius-want) > 1e-9 {
			t.Errorf("%v degrees: radius %g m, want %g m", deg, arc.radius, want)
		}
		if d := arc.at(arc.length / 2).Distance(corner); math.Abs(d-float64(motion.Blend)) > 1e-9 {
			t.Errorf("%v degrees: the arc leaves the corner by %.2f µm, want %.2f µm", deg, d*1e6, float64(motion.Blend)*1e6)
		}
		if d := arc.at(arc.length).Distance(tr[0][2].from); d > 1e-12 {
			t.Errorf("%v degrees: the arc ends %g m off the second leg", deg, d)
		}
	}
	if tr := segmented([]spot{{}, {X: 0.1}, {X: 0.05}}, float64(motion.Blend)); len(tr) != 2 {
		t.Errorf("a reversal is no stop: %v", tr)
	}
}

// The corners of a round drawn from outside, each rounded, are the round again.
func TestRoundedPolylineIsTheArc(t *testing.T) {
	const r, step = 0.02, 0.06
	path := []spot{{X: r, Y: -0.03}}
	for k := range 20 {
		path = append(path, ahead(spot{}, step*(float64(k)+0.5), r/math.Cos(step/2)))
	}
	end := path[len(path)-1]
	path = append(path, ahead(end, 20*step+math.Pi/2, 0.03))
	n := 0
	for _, b := range segmented(path, float64(motion.Blend))[0] {
		if b.radius > 0 {
			n++
			if math.Abs(b.radius-r) > 1e-6 {
				t.Fatalf("arc of %g m, want %g m", b.radius, r)
			}
		}
	}
	if n != 20 {
		t.Errorf("%d arcs, want 20", n)
	}
}

// Whatever the way: the validator finds nothing wrong with how it is driven, and
// no ride is slower than one that takes its slowest arc's speed throughout.
func TestRidesOfAnyPath(t *testing.T) {
	rnd := seeded(t, 22)
	for n := range 400 {
		d := evenAxes
		if n%2 == 1 {
			d = someDrive(rnd)
		}
		path := []spot{{}}
		for range 1 + rnd.IntN(30) {
			path = append(path, ahead(path[len(path)-1], 2*math.Pi*rnd.Float64(), math.Exp(-2-6*rnd.Float64())))
		}
		p, trajectory := Over(path, d), Samples(path, d)
		s := plan.Step{Do: plan.Travel, Path: path, Time: unit.Duration(trajectory[len(trajectory)-1].Time),
			Speed: unit.Speed(p.Speed), Accel: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk)}.Driven(trajectory)
		l := plan.Limits{Travel: d, Inside: frame.Rect[frame.Board]{Min: spot{X: -100, Y: -100}, Max: spot{X: 100, Y: 100}}}
		if err := validate.New(validate.Board{}, l).Check(plan.Scene{}, plan.Plan{Steps: []plan.Step{s}}); err != nil {
			t.Fatalf("way %d at %+v: %v", n, d, err)
		}
		slow := 0.0
		for _, tr := range segmented(path, float64(motion.Blend)) {
			v := p.Speed
			for _, o := range drive(d).sections(tr) {
				v = math.Min(v, o.top)
			}
			slow += bounds(p).profile(0, lengthOfSegments(tr), 0, 0, v).time()
		}
		if float64(s.Time) > slow*(1+1e-6) {
			t.Fatalf("way %d at %+v: %.4f s, at its slowest arc's speed %.4f s", n, p, float64(s.Time), slow)
		}
	}
}

func BenchmarkTrajectoryTime(b *testing.B) {
	path := []spot{{X: 0.02, Y: -0.1}}
	for k := range 25 {
		path = append(path, ahead(spot{}, 0.06*float64(k), 0.02))
	}
	path = append(path, spot{X: -0.1, Y: 0.02})
	for b.Loop() {
		Time(path, evenAxes)
	}
}
