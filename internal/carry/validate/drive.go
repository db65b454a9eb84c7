// SPDX-License-Identifier: Apache-2.0

package validate

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/motion"
)

// This file checks how a path is driven: from the samples alone, by their
// differences, without the planner's laws of motion.

// drive checks what every carriage path must hold: it starts where the
// carriage is, stays in reach, and the trajectory along it keeps the limits.
func (r *replay) drive(s plan.Step, d plan.Drive) error {
	if len(s.Path) < 2 {
		return fmt.Errorf("a path needs two places at least")
	}
	if distance(s.Path[0], r.at) > joint {
		return fmt.Errorf("the path starts at %s, the carriage is at %s", mm(s.Path[0]), mm(r.at))
	}
	in := r.limits.Inside
	for _, q := range s.Path {
		if q.X < in.Min.X-joint || q.X > in.Max.X+joint || q.Y < in.Min.Y-joint || q.Y > in.Max.Y+joint {
			return fmt.Errorf("%s is out of the carriage's reach", mm(q))
		}
	}
	p := d.Most
	if float64(s.Speed) > p.Speed*(1+rounding) || float64(s.Accel) > p.Accel*(1+rounding) || float64(s.Jerk) > p.Jerk*(1+rounding) || !(s.Speed > 0 && s.Accel > 0 && s.Jerk > 0) {
		return fmt.Errorf("speed %v, acceleration %v or jerk %v is beyond the limits", s.Speed, s.Accel, s.Jerk)
	}
	if err := timely(s); err != nil {
		return err
	}
	if err := steady(s.Trajectory(), plan.Bounds{Speed: float64(s.Speed), Accel: float64(s.Accel), Jerk: float64(s.Jerk)}); err != nil {
		return err
	}
	for axis := range d.Axes {
		if err := axial(s.Trajectory(), axis, d.Axes[axis]); err != nil {
			return err
		}
	}
	r.driven = r.driven[:0]
	for _, m := range s.Trajectory() {
		r.driven = append(r.driven, m.At)
	}
	r.at = s.Path[len(s.Path)-1]
	return alongside(s.Path, r.driven)
}

// timely says whether the samples follow each other evenly from the path's one
// end at rest to its other, in the time that the step gives.
func timely(s plan.Step) error {
	n := len(s.Trajectory()) - 1
	if n < 1 {
		return fmt.Errorf("nothing says how the path is driven")
	}
	first, last := s.Trajectory()[0], s.Trajectory()[n]
	if first.Time != 0 || first.Along != 0 || distance(first.At, s.Path[0]) > joint || distance(last.At, s.Path[len(s.Path)-1]) > joint {
		return fmt.Errorf("the ride does not join the ends of its path")
	}
	if math.Abs(last.Time-float64(s.Time)) > 1e-6 {
		return fmt.Errorf("the ride takes %.3f s, the step says %.3f s", last.Time, float64(s.Time))
	}
	for k := 1; k <= n; k++ {
		h := s.Trajectory()[k].Time - s.Trajectory()[k-1].Time
		if !(h > 0 && h <= sampleGap) || math.Abs(h-last.Time/float64(n)) > 1e-9 {
			return fmt.Errorf("at %.3f s the ride leaves a gap of %.1f ms", s.Trajectory()[k-1].Time, h*1e3)
		}
		if g := distance(s.Trajectory()[k].At, s.Trajectory()[k-1].At); g > s.Trajectory()[k].Along-s.Trajectory()[k-1].Along+joint {
			return fmt.Errorf("at %.3f s the ride jumps by %.2f mm", s.Trajectory()[k].Time, g*1e3)
		}
	}
	return nil
}

// steady says whether a trajectory from rest to rest keeps its limits: differences
// of the way are its mean speed, acceleration and jerk, and second differences
// of the place are the mean acceleration, of which the limit holds both along
// and across, so √2 of it together.
func steady(trajectory []plan.Sample, p plan.Bounds) error {
	h := trajectory[len(trajectory)-1].Time / float64(len(trajectory)-1)
	along := func(k int) float64 { return trajectory[max(0, min(k, len(trajectory)-1))].Along } // at rest before and after
	for k := range len(trajectory) + 2 {
		v := (along(k) - along(k-1)) / h
		a := (along(k) - 2*along(k-1) + along(k-2)) / (h * h)
		jerk := (along(k) - 3*along(k-1) + 3*along(k-2) - along(k-3)) / (h * h * h)
		at := h * float64(min(k, len(trajectory)-1))
		switch {
		case v < -1e-9 || v > p.Speed*(1+over):
			return fmt.Errorf("at %.3f s the carriage runs at %.1f mm/s, %.1f are allowed", at, v*1e3, p.Speed*1e3)
		case math.Abs(a) > p.Accel*(1+over):
			return fmt.Errorf("at %.3f s the carriage gains %.0f mm/s² along its path, %.0f are allowed", at, a*1e3, p.Accel*1e3)
		case math.Abs(jerk) > p.Jerk*(1+over):
			return fmt.Errorf("at %.3f s the acceleration changes by %.1f m/s³, %.1f are allowed", at, jerk, p.Jerk)
		}
	}
	for k := 2; k < len(trajectory); k++ {
		a, b, c := trajectory[k-2].At, trajectory[k-1].At, trajectory[k].At
		if g := math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y) / (h * h); g > math.Sqrt2*p.Accel*(1+over) {
			return fmt.Errorf("at %.3f s the carriage takes a corner with %.0f mm/s², %.0f are allowed", trajectory[k-1].Time, g*1e3, math.Sqrt2*p.Accel*1e3)
		}
	}
	return nil
}

// axial says whether one axis keeps to what it can do by itself: its speed
// everywhere, its acceleration and jerk where the way is straight. On an arc
// what the path gains and what it turns come together, each of which is within
// the axis' own.
func axial(trajectory []plan.Sample, axis int, p plan.Bounds) error {
	h := trajectory[len(trajectory)-1].Time / float64(len(trajectory)-1)
	at := func(k int) float64 {
		s := trajectory[max(0, min(k, len(trajectory)-1))].At // at rest before and after
		return [2]float64{s.X, s.Y}[axis]
	}
	straight := 0 // places in a row since the last bend
	for k := 1; k < len(trajectory)+2; k++ {
		if k > 1 && k < len(trajectory) && bend(trajectory[k-2].At, trajectory[k-1].At, trajectory[k].At) > bent {
			straight = 0
		}
		straight++
		v := (at(k) - at(k-1)) / h
		a := (at(k) - 2*at(k-1) + at(k-2)) / (h * h)
		jerk := (at(k) - 3*at(k-1) + 3*at(k-2) - at(k-3)) / (h * h * h)
		most := 2 * p.Accel
		if straight > 2 {
			most = p.Accel
		}
		if math.Abs(v) > p.Speed*(1+over) || math.Abs(a) > most*(1+over) || straight > 3 && math.Abs(jerk) > p.Jerk*(1+over) {
			return fmt.Errorf("at %.3f s axis %s does %.1f mm/s, %.0f mm/s² and %.1f m/s³; it can do %.1f, %.0f and %.1f",
				h*float64(k), [2]string{"x", "y"}[axis], v*1e3, a*1e3, jerk, p.Speed*1e3, p.Accel*1e3, p.Jerk)
		}
	}
	return nil
}

// bend is how far b lies off the line from a to c.
func bend(a, b, c spot) float64 {
	l := distance(a, c)
	if l == 0 {
		return 0
	}
	return math.Abs((b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X)) / l
}

// alongside says whether the trajectory and its path lie together: no place of one
// farther from the other than the blend of a corner and what samples cut.
func alongside(path, driven []spot) error {
	const off = float64(motion.Blend) + joint
	for _, q := range driven {
		if d, _ := closest(path, q); d > off {
			return fmt.Errorf("the ride leaves its path by %.0f µm at %s", d*1e6, mm(q))
		}
	}
	for _, q := range path {
		if d, _ := closest(driven, q); d > off+slack {
			return fmt.Errorf("the ride misses %s by %.0f µm", mm(q), d*1e6)
		}
	}
	return nil
}

// moment is the time in the step at a place of its ride: number of the sample
// before, with the share of the way to the next.
func moment(s plan.Step, place float64) float64 {
	trajectory := s.Trajectory()
	if len(trajectory) == 0 {
		return 0
	}
	return place * trajectory[len(trajectory)-1].Time / float64(len(trajectory)-1)
}
