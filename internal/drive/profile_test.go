// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/unit"
)

// Computed from the textbook trapezoid, the area under the speed checked
// numerically: d mm, v mm/s, a mm/s²: T s, peak mm/s, ramp s, cruise s.
func TestTrapezoidTable(t *testing.T) {
	for _, w := range [][7]float64{
		{400, 200, 500, 2.400000, 200, 0.4, 1.6},
		{50, 200, 500, 0.632456, 158.113883, 0.316228, 0},
		{80, 200, 500, 0.800000, 200, 0.4, 0},
		{500, 100, 250, 5.400000, 100, 0.4, 4.6},
		{300, 150, 1000, 2.150000, 150, 0.15, 1.85},
	} {
		p := must(Trapezoid(unit.MM(w[0]), unit.Speed(w[1]*1e-3), unit.Acceleration(w[2]*1e-3)))(t)
		name := fmt.Sprintf("d %g v %g a %g", w[0], w[1], w[2])
		near(t, name+" T", p.Duration(), w[3], 6e-7)
		near(t, name+" peak", p.PeakSpeed()*1e3, w[4], 6e-7)
		near(t, name+" ramp", p.Ramp(), w[5], 6e-7)
		near(t, name+" cruise", p.Cruise(), w[6], 1e-9)
	}
}

// Computed from the phase table of JPE, Third order point to point motion
// profile, the distance recovered by integrating the jerk: d, v, a, j: T, peak
// speed, peak acceleration, jerk time, ramp, cruise.
func TestSCurveTable(t *testing.T) {
	for _, w := range [][10]float64{
		{400, 200, 500, 5000, 2.500000, 200, 500, 0.1, 0.5, 1.5},
		{400, 200, 500, 2000, 2.650000, 200, 500, 0.25, 0.65, 1.35},
		{50, 200, 500, 5000, 0.740312, 135.078106, 500, 0.1, 0.370156, 0},
		{2, 200, 500, 5000, 0.233921, 17.099759, 292.401774, 0.058480, 0.116961, 0},
		{100, 200, 2000, 5000, 0.900000, 200, 1000, 0.2, 0.4, 0.1},
		{1000, 250, 1000, 10000, 4.350000, 250, 1000, 0.1, 0.35, 3.65},
	} {
		p := must(SCurve(unit.MM(w[0]), limits(w[1], w[2], w[3])))(t)
		name := fmt.Sprintf("d %g v %g a %g j %g", w[0], w[1], w[2], w[3])
		near(t, name+" T", p.Duration(), w[4], 6e-7)
		near(t, name+" peak speed", p.PeakSpeed()*1e3, w[5], 6e-7)
		near(t, name+" peak acceleration", p.PeakAcceleration()*1e3, w[6], 6e-7)
		near(t, name+" jerk time", p.JerkTime(), w[7], 6e-7)
		near(t, name+" ramp", p.Ramp(), w[8], 6e-7)
		near(t, name+" cruise", p.Cruise(), w[9], 1e-9)
	}
}

func limits(v, a, j float64) Limits {
	return Limits{unit.Speed(v * 1e-3), unit.Acceleration(a * 1e-3), unit.Jerk(j * 1e-3)}
}

// Whatever the limits: they are kept, the speed adds up to the distance, and
// nothing jumps.
func TestProfilesKeepTheirLimits(t *testing.T) {
	const seed = 3
	t.Log("seed", seed)
	rng := rand.New(rand.NewPCG(seed, 0))
	some := func() float64 { return math.Exp(6*rng.Float64() - 4) }
	for range 200 {
		d, l := some(), Limits{unit.Speed(some()), unit.Acceleration(some()), unit.Jerk(10 * some())}
		s := must(SCurve(unit.Length(d), l))(t)
		z := must(Trapezoid(unit.Length(d), l.Speed, l.Acceleration))(t)
		if s.Duration() < z.Duration()-1e-12 {
			t.Fatalf("%v %+v: the S-curve is faster than the trapezoid", d, l)
		}
		for _, p := range []Profile{s, z} {
			walk(t, p, l)
		}
	}
}

// walk sums the speed over time and compares with the positions.
func walk(t *testing.T, p Profile, l Limits) {
	t.Helper()
	const n = 2000
	dt := p.Duration() / n
	way, last := 0.0, p.At(0)
	for i := 1; i <= n; i++ {
		s := p.At(float64(i) * dt)
		mid := p.At((float64(i) - 0.5) * dt)
		way += dt / 6 * (last.Speed + 4*mid.Speed + s.Speed)
		if s.Speed > float64(l.Speed)*(1+1e-9) || s.Speed < -1e-9 || math.Abs(s.Acceleration) > float64(l.Acceleration)*(1+1e-9) {
			t.Fatalf("%+v breaks its limits %+v at %g s", s, l, float64(i)*dt)
		}
		if math.Abs(s.Position-way) > 1e-4*p.Length() {
			t.Fatalf("position %g, speed adds up to %g", s.Position, way)
		}
		last = s
	}
	near(t, "end", p.At(p.Duration()).Position, p.Length(), 1e-12)
	end := p.At(p.Duration() * (1 - 1e-9))
	near(t, "end is reached smoothly", end.Position, p.Length(), 1e-6*p.Length())
}

func TestSCurveAtEndlessJerkIsTheTrapezoid(t *testing.T) {
	s := must(SCurve(unit.MM(400), limits(200, 500, 1e11)))(t)
	z := must(Trapezoid(unit.MM(400), 0.2, 0.5))(t)
	near(t, "duration", s.Duration(), z.Duration(), 1e-6)
	near(t, "middle", s.At(0.3).Position, z.At(0.3).Position, 1e-6)
}

func TestProfilesRefuseNonsense(t *testing.T) {
	for _, w := range [][4]float64{{-1, 1, 1, 1}, {1, 0, 1, 1}, {1, 1, -1, 1}, {math.NaN(), 1, 1, 1}, {1, math.NaN(), 1, 1}, {1, 1, math.Inf(1), 1}} {
		if _, err := Trapezoid(unit.Length(w[0]), unit.Speed(w[1]), unit.Acceleration(w[2])); err == nil {
			t.Errorf("trapezoid %v must be refused", w)
		}
		if _, err := SCurve(unit.Length(w[0]), Limits{unit.Speed(w[1]), unit.Acceleration(w[2]), unit.Jerk(w[3])}); err == nil {
			t.Errorf("S-curve %v must be refused", w)
		}
	}
	if _, err := SCurve(1, Limits{1, 1, 0}); err == nil {
		t.Error("no jerk must be refused")
	}
	for _, p := range []Profile{must(Trapezoid(0, 1, 1))(t), must(SCurve(0, Limits{1, 1, 1}))(t), {}} {
		if p.Duration() != 0 || p.At(1) != (State{}) || p.Cruise() != 0 {
			t.Errorf("no way takes no time: %+v", p)
		}
	}
	p := must(Trapezoid(1, 1, 1))(t)
	if p.At(math.NaN()) != (State{}) || p.At(-1) != (State{}) || p.At(99).Position != 1 {
		t.Error("before and after the move it rests at its ends")
	}
}

func BenchmarkSCurve(b *testing.B) {
	for b.Loop() {
		p, _ := SCurve(0.4, Limits{0.2, 0.5, 5})
		p.At(0.7)
	}
}

func ExampleSCurve() {
	p, err := SCurve(unit.MM(400), Limits{Speed: 0.2, Acceleration: 0.5, Jerk: 5})
	if err != nil {
		fmt.Println(err)
	}
	half := p.At(p.Duration() / 2)
	fmt.Printf("%.2f s, %.0f mm/s at the middle of %.0f mm\n", p.Duration(), half.Speed*1e3, half.Position*2e3)
	// Output: 2.50 s, 200 mm/s at the middle of 400 mm
}
