package carry

import (
	"math"

	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// Drive bounds the carriage's motion, with the magnet raised or lowered: what
// holds along a path whatever its direction, and what each axis can do. The
// axes run along the board's sides.
type Drive struct {
	Most pace    // along a path
	Axes [2]pace // of the x and of the y axis
}

// moves says whether all limits are more than nothing.
func (d Drive) moves() bool {
	for _, p := range [3]pace{d.Most, d.Axes[0], d.Axes[1]} {
		if !(p.speed > 0 && p.accel > 0 && p.jerk > 0) {
			return false
		}
	}
	return true
}

// driveOf is what the rig file lets both axes do, one by one and together.
func driveOf(r *rig.Rig) Drive {
	var d Drive
	for i, a := range [2]rig.Axis{r.Axis.X, r.Axis.Y} {
		d.Axes[i] = pace{float64(a.Speed), float64(a.Acceleration), jerkOf(a)}
	}
	x, y := d.Axes[0], d.Axes[1]
	d.Most = pace{math.Hypot(x.speed, y.speed), math.Hypot(x.accel, y.accel), math.Hypot(x.jerk, y.jerk)}
	return d
}

// along is what a straight stretch allows: an axis that moves by the share c of
// the way lets it run 1/c times as fast as itself, with 1/c times the
// acceleration and jerk. Exact, plane geometry.
func (d Drive) along(head float64) pace {
	p := d.Most
	sin, cos := math.Sincos(head)
	for i, c := range [2]float64{math.Abs(cos), math.Abs(sin)} {
		if a := d.Axes[i]; c > 1e-9 {
			p = pace{math.Min(p.speed, a.speed/c), math.Min(p.accel, a.accel/c), math.Min(p.jerk, a.jerk/c)}
		}
	}
	return p
}

// over is what a whole path is driven with: the speed of its quickest stretch
// at most, and one acceleration and jerk that all its stretches allow.
func (d Drive) over(path []lanes.Spot) pace {
	path = tidy(path)
	p := pace{0, math.Inf(1), math.Inf(1)}
	for i := 1; i < len(path); i++ {
		s := d.along(heading(path[i-1], path[i]))
		p = pace{math.Max(p.speed, s.speed), math.Min(p.accel, s.accel), math.Min(p.jerk, s.jerk)}
	}
	if len(path) < 2 {
		return d.Most
	}
	return p
}

// across is the acceleration towards the middle of an arc: it turns through
// all directions, so no more than either axis has.
func (d Drive) across() float64 {
	return math.Min(d.Most.accel, math.Min(d.Axes[0].accel, d.Axes[1].accel))
}

// hop is a time from rest to rest that no way from a to b beats, when the
// magnet has nearer metres less to run or, below zero, more: no axis can be
// quicker over its part of the way, and nothing is quicker than the straight
// way at what is allowed in any direction.
func (d Drive) hop(a, b lanes.Spot, nearer float64) float64 {
	t := d.Most.hop(a.Distance(b) - nearer)
	for i, part := range [2]float64{math.Abs(a.X - b.X), math.Abs(a.Y - b.Y)} {
		t = math.Max(t, d.Axes[i].hop(part-math.Max(0, nearer)))
	}
	return t
}

// hop is the least time of a way of at least that length from rest to rest:
// the quickest S-curve over it, seconds. A longer way, a bend or a halt only
// takes longer.
func (p pace) hop(length float64) float64 {
	if length < 1e-9 {
		return 0
	}
	return p.hill(0, length, 0, 0, p.speed).time()
}
