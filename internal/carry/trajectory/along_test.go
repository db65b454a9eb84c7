// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"
	"testing"

	"boardhand/internal/carry/plan"
)

// In whatever direction: no axis beyond its own, nor the path beyond what
// holds along it, and one of the three is at its limit.
func TestSlopesUseBothAxes(t *testing.T) {
	rnd := seeded(t, 41)
	for range 500 {
		d, head := someDrive(rnd), 2*math.Pi*rnd.Float64()
		p := drive(d).along(head)
		sin, cos := math.Sincos(head)
		used := [3]float64{p.Speed / d.Most.Speed, p.Accel / d.Most.Accel, p.Jerk / d.Most.Jerk}
		for i, c := range [2]float64{math.Abs(cos), math.Abs(sin)} {
			a := d.Axes[i]
			for k, share := range [3]float64{p.Speed * c / a.Speed, p.Accel * c / a.Accel, p.Jerk * c / a.Jerk} {
				used[k] = math.Max(used[k], share)
			}
		}
		for _, u := range used {
			if math.Abs(u-1) > 1e-9 {
				t.Fatalf("%+v towards %.2f: %+v uses %.3f of what there is", d, head, p, used)
			}
		}
	}
	even := drive{Most: plan.Bounds{Speed: 1, Accel: 9, Jerk: 90}, Axes: evenAxes.Axes}
	if p := even.along(math.Pi / 4); math.Abs(p.Speed-0.12*math.Sqrt2) > 1e-12 || even.along(math.Pi/2).Speed != 0.12 {
		t.Errorf("a slope of one to one is run at %g m/s", p.Speed)
	}
}

// No way from a to b is driven in less time than hop says, and a straight one
// in just that, where both axes are alike.
func TestHopIsNeverBeaten(t *testing.T) {
	rnd := seeded(t, 42)
	place := func() spot { return spot{X: 0.3 * rnd.Float64(), Y: 0.3 * rnd.Float64()} }
	for range 500 {
		d, path := someDrive(rnd), []spot{place()}
		for range 1 + rnd.IntN(3) {
			path = append(path, place())
		}
		a, b := path[0], path[len(path)-1]
		if took, least := Time(path, d), Hop(a, b, d, 0); took < least-1e-9 {
			t.Fatalf("%+v: %v takes %.4f s, the bound is %.4f s", d, path, took, least)
		}
		d.Axes[1] = d.Axes[0]
		d.Most = twice(d.Axes[0])
		if took, least := Time([]spot{a, b}, d), Hop(a, b, d, 0); math.Abs(took-least) > 1e-6*took {
			t.Fatalf("%+v: straight from %v to %v takes %.4f s, the bound is %.4f s", d, a, b, took, least)
		}
	}
}

func twice(p plan.Bounds) plan.Bounds {
	return plan.Bounds{Speed: 2 * p.Speed, Accel: 2 * p.Accel, Jerk: 2 * p.Jerk}
}
