package carry

import (
	"fmt"
	"math"

	"boardhand/internal/lanes"
)

// This file judges how a path is driven: from the stamps alone, by their
// differences, without the planner's laws of motion.

// What the judge lets pass of a ride.
const (
	judgeStamp = 0.0101 // s between stamps at most: nothing can hide between two
	judgeOver  = 0.01   // share over a limit: differences of exact stamps are means, never more than the limit itself
)

// drive checks what every carriage path must hold: it starts where the
// carriage is, stays in reach, and the ride along it keeps the limits.
func (j *judge) drive(s Step, d Drive) error {
	if len(s.Path) < 2 {
		return fmt.Errorf("a path needs two places at least")
	}
	if gapBetween(s.Path[0], j.at) > judgeJoint {
		return fmt.Errorf("the path starts at %s, the carriage is at %s", mm(s.Path[0]), mm(j.at))
	}
	in := j.p.limits.Inside
	for _, q := range s.Path {
		if q.X < in.Min.X-judgeJoint || q.X > in.Max.X+judgeJoint || q.Y < in.Min.Y-judgeJoint || q.Y > in.Max.Y+judgeJoint {
			return fmt.Errorf("%s is out of the carriage's reach", mm(q))
		}
	}
	p := d.Most
	if float64(s.Speed) > p.speed*(1+1e-9) || float64(s.Accel) > p.accel*(1+1e-9) || float64(s.Jerk) > p.jerk*(1+1e-9) || !(s.Speed > 0 && s.Accel > 0 && s.Jerk > 0) {
		return fmt.Errorf("speed %v, acceleration %v or jerk %v is beyond the limits", s.Speed, s.Accel, s.Jerk)
	}
	if err := timely(s); err != nil {
		return err
	}
	if err := steady(s.ride, pace{float64(s.Speed), float64(s.Accel), float64(s.Jerk)}); err != nil {
		return err
	}
	for axis := range d.Axes {
		if err := axial(s.ride, axis, d.Axes[axis]); err != nil {
			return err
		}
	}
	j.driven = j.driven[:0]
	for _, m := range s.ride {
		j.driven = append(j.driven, m.At)
	}
	j.at = s.Path[len(s.Path)-1]
	return alongside(s.Path, j.driven)
}

// timely says whether the stamps follow each other evenly from the path's one
// end at rest to its other, in the time that the step gives.
func timely(s Step) error {
	n := len(s.ride) - 1
	if n < 1 {
		return fmt.Errorf("nothing says how the path is driven")
	}
	first, last := s.ride[0], s.ride[n]
	if first.Time != 0 || first.Along != 0 || gapBetween(first.At, s.Path[0]) > judgeJoint || gapBetween(last.At, s.Path[len(s.Path)-1]) > judgeJoint {
		return fmt.Errorf("the ride does not join the ends of its path")
	}
	if math.Abs(last.Time-float64(s.Time)) > 1e-6 {
		return fmt.Errorf("the ride takes %.3f s, the step says %.3f s", last.Time, float64(s.Time))
	}
	for k := 1; k <= n; k++ {
		h := s.ride[k].Time - s.ride[k-1].Time
		if !(h > 0 && h <= judgeStamp) || math.Abs(h-last.Time/float64(n)) > 1e-9 {
			return fmt.Errorf("at %.3f s the ride leaves a gap of %.1f ms", s.ride[k-1].Time, h*1e3)
		}
		if g := gapBetween(s.ride[k].At, s.ride[k-1].At); g > s.ride[k].Along-s.ride[k-1].Along+judgeJoint {
			return fmt.Errorf("at %.3f s the ride jumps by %.2f mm", s.ride[k].Time, g*1e3)
		}
	}
	return nil
}

// steady says whether a ride from rest to rest keeps its limits: differences
// of the way are its mean speed, acceleration and jerk, and second differences
// of the place are the mean acceleration, of which the limit holds both along
// and across, so √2 of it together.
func steady(ride []Stamp, p pace) error {
	h := ride[len(ride)-1].Time / float64(len(ride)-1)
	along := func(k int) float64 { return ride[max(0, min(k, len(ride)-1))].Along } // at rest before and after
	for k := range len(ride) + 2 {
		v := (along(k) - along(k-1)) / h
		a := (along(k) - 2*along(k-1) + along(k-2)) / (h * h)
		jerk := (along(k) - 3*along(k-1) + 3*along(k-2) - along(k-3)) / (h * h * h)
		at := h * float64(min(k, len(ride)-1))
		switch {
		case v < -1e-9 || v > p.speed*(1+judgeOver):
			return fmt.Errorf("at %.3f s the carriage runs at %.1f mm/s, %.1f are allowed", at, v*1e3, p.speed*1e3)
		case math.Abs(a) > p.accel*(1+judgeOver):
			return fmt.Errorf("at %.3f s the carriage gains %.0f mm/s² along its path, %.0f are allowed", at, a*1e3, p.accel*1e3)
		case math.Abs(jerk) > p.jerk*(1+judgeOver):
			return fmt.Errorf("at %.3f s the acceleration changes by %.1f m/s³, %.1f are allowed", at, jerk, p.jerk)
		}
	}
	for k := 2; k < len(ride); k++ {
		a, b, c := ride[k-2].At, ride[k-1].At, ride[k].At
		if g := math.Hypot(a.X-2*b.X+c.X, a.Y-2*b.Y+c.Y) / (h * h); g > math.Sqrt2*p.accel*(1+judgeOver) {
			return fmt.Errorf("at %.3f s the carriage takes a corner with %.0f mm/s², %.0f are allowed", ride[k-1].Time, g*1e3, math.Sqrt2*p.accel*1e3)
		}
	}
	return nil
}

// bent is how far, metres, a place may lie off the middle of those before and
// after it for the way to count as straight there: far above rounding, far below
// what the gentlest arc of the slowest drive shows between two stamps.
const bent = 1e-12

// axial says whether one axis keeps to what it can do by itself: its speed
// everywhere, its acceleration and jerk where the way is straight. On an arc
// what the path gains and what it turns come together, each of which is within
// the axis' own.
func axial(ride []Stamp, axis int, p pace) error {
	h := ride[len(ride)-1].Time / float64(len(ride)-1)
	at := func(k int) float64 {
		s := ride[max(0, min(k, len(ride)-1))].At // at rest before and after
		return [2]float64{s.X, s.Y}[axis]
	}
	straight := 0 // places in a row since the last bend
	for k := 1; k < len(ride)+2; k++ {
		if k > 1 && k < len(ride) && bend(ride[k-2].At, ride[k-1].At, ride[k].At) > bent {
			straight = 0
		}
		straight++
		v := (at(k) - at(k-1)) / h
		a := (at(k) - 2*at(k-1) + at(k-2)) / (h * h)
		jerk := (at(k) - 3*at(k-1) + 3*at(k-2) - at(k-3)) / (h * h * h)
		most := 2 * p.accel
		if straight > 2 {
			most = p.accel
		}
		if math.Abs(v) > p.speed*(1+judgeOver) || math.Abs(a) > most*(1+judgeOver) || straight > 3 && math.Abs(jerk) > p.jerk*(1+judgeOver) {
			return fmt.Errorf("at %.3f s axis %s does %.1f mm/s, %.0f mm/s² and %.1f m/s³; it can do %.1f, %.0f and %.1f",
				h*float64(k), [2]string{"x", "y"}[axis], v*1e3, a*1e3, jerk, p.speed*1e3, p.accel*1e3, p.jerk)
		}
	}
	return nil
}

// bend is how far b lies off the line from a to c.
func bend(a, b, c lanes.Spot) float64 {
	l := gapBetween(a, c)
	if l == 0 {
		return 0
	}
	return math.Abs((b.X-a.X)*(c.Y-a.Y)-(b.Y-a.Y)*(c.X-a.X)) / l
}

// alongside says whether the ride and its path lie together: no place of one
// farther from the other than the blend of a corner and what stamps cut.
func alongside(path, driven []lanes.Spot) error {
	const off = float64(Blend) + judgeJoint
	for _, q := range driven {
		if d, _ := closest(path, q); d > off {
			return fmt.Errorf("the ride leaves its path by %.0f µm at %s", d*1e6, mm(q))
		}
	}
	for _, q := range path {
		if d, _ := closest(driven, q); d > off+judgeSlack {
			return fmt.Errorf("the ride misses %s by %.0f µm", mm(q), d*1e6)
		}
	}
	return nil
}

// moment is the time in the step at a place of its ride: number of the stamp
// before, with the share of the way to the next.
func (s Step) moment(place float64) float64 {
	if len(s.ride) == 0 {
		return 0
	}
	return place * s.ride[len(s.ride)-1].Time / float64(len(s.ride)-1)
}
