package carry

import (
	"context"
	"math"
	"testing"

	"boardhand/internal/lanes"
)

// In whatever direction: no axis beyond its own, nor the path beyond what
// holds along it, and one of the three is at its limit.
func TestSlopesUseBothAxes(t *testing.T) {
	rnd := seeded(t, 41)
	for range 500 {
		d, head := someDrive(rnd), 2*math.Pi*rnd.Float64()
		p := d.along(head)
		sin, cos := math.Sincos(head)
		used := [3]float64{p.speed / d.Most.speed, p.accel / d.Most.accel, p.jerk / d.Most.jerk}
		for i, c := range [2]float64{math.Abs(cos), math.Abs(sin)} {
			a := d.Axes[i]
			for k, share := range [3]float64{p.speed * c / a.speed, p.accel * c / a.accel, p.jerk * c / a.jerk} {
				used[k] = math.Max(used[k], share)
			}
		}
		for _, u := range used {
			if math.Abs(u-1) > 1e-9 {
				t.Fatalf("%+v towards %.2f: %+v uses %.3f of what there is", d, head, p, used)
			}
		}
	}
	even := Drive{pace{1, 9, 90}, [2]pace{{0.12, 0.4, 4}, {0.12, 0.4, 4}}}
	if p := even.along(math.Pi / 4); math.Abs(p.speed-0.12*math.Sqrt2) > 1e-12 || even.along(math.Pi/2).speed != 0.12 {
		t.Errorf("a slope of one to one is run at %g m/s", p.speed)
	}
}

// No way from a to b is driven in less time than hop says, and a straight one
// in just that, where both axes are alike.
func TestHopIsNeverBeaten(t *testing.T) {
	rnd := seeded(t, 42)
	spot := func() lanes.Spot { return lanes.Spot{X: 0.3 * rnd.Float64(), Y: 0.3 * rnd.Float64()} }
	for range 500 {
		d, path := someDrive(rnd), []lanes.Spot{spot()}
		for range 1 + rnd.IntN(3) {
			path = append(path, spot())
		}
		a, b := path[0], path[len(path)-1]
		if took, least := rideTime(path, d), d.hop(a, b, 0); took < least-1e-9 {
			t.Fatalf("%+v: %v takes %.4f s, the bound is %.4f s", d, path, took, least)
		}
		d.Axes[1] = d.Axes[0]
		d.Most = d.Axes[0].twice()
		if took, least := rideTime([]lanes.Spot{a, b}, d), d.hop(a, b, 0); math.Abs(took-least) > 1e-6*took {
			t.Fatalf("%+v: straight from %v to %v takes %.4f s, the bound is %.4f s", d, a, b, took, least)
		}
	}
}

func (p pace) twice() pace { return pace{2 * p.speed, 2 * p.accel, 2 * p.jerk} }

// turnTogether is by how much an axis may pass its acceleration where the
// carriage gains speed and turns at once: seen for four stamps in a hundred
// thousand, half of what the motors' reserve of half as much again covers.
const turnTogether = 0.25

// Plans for positions from games, round neighbours as well: each axis keeps to
// its own acceleration, on bends too. (Speed everywhere, and jerk where the way
// is straight, the judge of every plan sees to.)
func TestPlansKeepEachAxisToItsOwn(t *testing.T) {
	rnd := seeded(t, 8)
	turns := turnsFromGames(t, rnd, 150)
	for _, foot := range []float64{0.30, 0.45, 0.60} {
		p := planner(t, withFeet(foot))
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
				r := s.ride
				for k := 2; k < len(r); k++ {
					h := r[1].Time
					ax, ay := r[k].At.X-2*r[k-1].At.X+r[k-2].At.X, r[k].At.Y-2*r[k-1].At.Y+r[k-2].At.Y
					worst = math.Max(worst, math.Max(math.Abs(ax)/d.Axes[0].accel, math.Abs(ay)/d.Axes[1].accel)/(h*h))
				}
			}
		}
		t.Logf("foot %.2f: an axis gains up to %.3f of what it can", foot, worst)
		if worst > 1+turnTogether || worst < 0.99 {
			t.Errorf("foot %.2f: an axis gains up to %.3f of what it can", foot, worst)
		}
	}
}
