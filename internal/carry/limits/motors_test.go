// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"math"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// limitsOf are the limits of the default rig with a change.
func limitsOf(t *testing.T, change func(*rig.Rig)) plan.Limits {
	t.Helper()
	r := rig.Default()
	if change != nil {
		change(r)
	}
	l, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The default machine's motors have force to spare; weaker ones are driven
// slower, and what they are asked for stays within their line with the reserve.
func TestWeakMotorsSlowTheCarry(t *testing.T) {
	strong := limitsOf(t, nil)
	if y := strong.Carry.Axes[1]; y.Speed != 0.12 || y.Accel != 0.4 || strong.Carry.Most.Accel < 0.4*math.Sqrt2*(1-1e-9) {
		t.Errorf("the default machine is held back: %+v", strong)
	}
	last := strong.Carry.Axes[1].Speed
	for _, free := range []float64{200, 120, 80, 60} { // rpm: 120 mm/s are 143 rpm
		l := limitsOf(t, func(r *rig.Rig) { r.Axis.Y.Motor.FreeSpeed = unit.RPM(free) })
		if l.Carry.Axes[1].Speed > last || l.Travel.Axes[1].Speed < l.Carry.Axes[1].Speed {
			t.Errorf("%v rpm: carry at %.1f mm/s after %.1f, travel at %.1f", free, l.Carry.Axes[1].Speed*1e3, last*1e3, l.Travel.Axes[1].Speed*1e3)
		}
		if most := free / 60 * math.Pi * 16e-3; l.Carry.Axes[1].Speed >= most { // a 16-tooth pinion of module 1
			t.Errorf("%v rpm: carry at %.1f mm/s, unloaded the axis does %.1f", free, l.Carry.Axes[1].Speed*1e3, most*1e3)
		}
		last = l.Carry.Axes[1].Speed
	}
}

// What the motor is asked for against its line, worked out by hand: the default
// y axis moves 0.42 kg at 0.4 m/s² with 1 N in its guides.
func TestWithinTheMotorLine(t *testing.T) {
	train := drive.Train{Motor: drive.DC{Stall: 0.05, Free: 20}, Travel: 0.05, Gearing: 1, Efficiency: 1}
	load := drive.Load{Mass: 0.42, Friction: 1}
	v, a, err := within(train, load, plan.Bounds{Speed: 0.3, Accel: 0.4, Jerk: 4})
	if err != nil {
		t.Fatal(err)
	}
	// 2π·0.05 N·m/0.05 m = 6.283 N at rest, 0.1592 m/s unloaded; 1.168 N with half as much again is
	// 1.752 N, left at 0.1592·(1 − 1.752/6.283) = 0.1148 m/s.
	if a != 0.4 || math.Abs(v-0.1148) > 1e-4 {
		t.Errorf("%.4f m/s and %.2f m/s², want 0.1148 and 0.4", v, a)
	}
	if need := 1.5 * (1 + 0.42*a); float64(train.ForceAt(unit.Speed(v))) < need-1e-9 {
		t.Errorf("%v at that speed, %.3f N are wanted", train.ForceAt(unit.Speed(v)), need)
	}
	load.Friction = 7
	if _, _, err := within(train, load, plan.Bounds{Speed: 0.3, Accel: 0.4, Jerk: 4}); err == nil {
		t.Error("a motor weaker than the friction was let go")
	}
}

// An axis that cannot overcome its friction is refused, in words.
func TestMotorTooWeakToStart(t *testing.T) {
	r := rig.Default()
	r.Axis.X.Motor.StallTorque = 0.005
	if _, err := Of(r); err == nil {
		t.Error("limits for an axis that cannot overcome its friction")
	}
}

// Stronger axes never make a carry slower: where pieces would swing too far for the
// jerk that comes with a higher acceleration, a softer one is taken. Judged over three
// squares of 40 mm by the formula of an S-curve.
func TestMoreAccelerationIsNoSlower(t *testing.T) {
	for _, speed := range []float64{0.12, 0.18} {
		last := math.Inf(1)
		for _, accel := range []float64{0.4, 1.5, 3, 6, 12} {
			b := limitsOf(t, func(r *rig.Rig) {
				for _, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
					a.Speed, a.Acceleration, a.Jerk = unit.Speed(speed), unit.Acceleration(accel), unit.Jerk(10*accel)
				}
			}).Carry.Most
			s, err := drive.SCurve(0.12, drive.Limits{Speed: unit.Speed(speed), Acceleration: unit.Acceleration(b.Accel), Jerk: unit.Jerk(b.Jerk)})
			if err != nil {
				t.Fatal(err)
			}
			if s.Duration() > 1.005*last {
				t.Errorf("%g m/s, %g m/s²: %.3f s, with less acceleration %.3f s", speed, accel, s.Duration(), last)
			}
			last = math.Min(last, s.Duration())
		}
	}
}
