// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
)

// leg is one piece of a stroke: straight, or an arc that rounds a corner.
type leg struct {
	from, dir frame.Spot[frame.Machine]
	bend      float64 // curvature, 1/m, positive to the left; 0: straight
	start     float64 // from the stroke's start, m
	length    float64
	speed     float64 // at most, m/s
	stop      bool    // the carriage stands at its end
}

// at is the place s metres along the leg.
func (l leg) at(s float64) frame.Spot[frame.Machine] {
	side := frame.Spot[frame.Machine]{X: -l.dir.Y, Y: l.dir.X}
	if l.bend == 0 {
		return l.from.Add(l.dir.Scale(s))
	}
	sin, cos := math.Sincos(l.bend * s)
	return l.from.Add(l.dir.Scale(sin / l.bend)).Add(side.Scale((1 - cos) / l.bend))
}

// course is a stroke as the controller runs it.
type course struct {
	legs       []leg
	most, jerk float64    // acceleration along the path, m/s²; m/s³
	across     float64    // acceleration across it on an arc, which turns through all directions, m/s²
	told       float64    // speed that the stroke allows, m/s
	axes       [2]float64 // and each axis
	end        frame.Spot[frame.Machine]
}

// newCourse rounds the corners of a stroke that starts where the motors are,
// and finds the limits along it from its own and the axes'.
func newCourse(r *rig.Rig, at frame.Spot[frame.Machine], s motion.Stroke, boost float64) *course {
	path := []frame.Spot[frame.Machine]{at}
	for _, to := range s.Path {
		if to.Distance(path[len(path)-1]) > 1e-9 {
			path = append(path, to)
		}
	}
	c := &course{end: path[len(path)-1]}
	c.limits(r, path, s, boost)
	blend := float64(s.Blend)
	if blend == 0 {
		blend = float64(motion.Blend)
	}
	cut := 0.0
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		dir, n := b.Sub(a).Unit(), b.Distance(a)
		l := leg{from: a.Add(dir.Scale(cut)), dir: dir, length: n - cut, speed: limit(dir, c.told, c.axes[0], c.axes[1])}
		if i+1 < len(path) {
			cut = c.corner(l, path[i+1].Sub(b), n, blend)
			continue
		}
		l.stop = true
		c.add(l)
	}
	return c
}

// limits are one acceleration and one jerk for all of the stroke: the least of
// its legs'.
func (c *course) limits(r *rig.Rig, path []frame.Spot[frame.Machine], s motion.Stroke, boost float64) {
	c.most, c.jerk = math.Inf(1), math.Inf(1)
	x, y := r.Axis.X, r.Axis.Y
	c.told, c.axes = boost*float64(s.Speed), [2]float64{boost * float64(x.Speed), boost * float64(y.Speed)}
	c.across = boost * float64(min(x.Acceleration, y.Acceleration))
	if s.Accel > 0 {
		c.across = min(c.across, boost*float64(s.Accel))
	}
	for i := 1; i < len(path); i++ {
		dir := path[i].Sub(path[i-1]).Unit()
		c.most = min(c.most, boost*limit(dir, float64(s.Accel), float64(x.Acceleration), float64(y.Acceleration)))
		c.jerk = min(c.jerk, boost*limit(dir, float64(s.Jerk), jerk(x), jerk(y)))
	}
}

// corner adds a straight leg and the arc at its end towards the next one, and
// returns what the arc takes from that. The arc's tangents are half of the
// shorter leg at most, and its top stays within blend of the corner: with half
// the inner angle φ, the top is r·(1/sin φ − 1) from it and r = t·tan φ.
func (c *course) corner(l leg, next frame.Spot[frame.Machine], whole, blend float64) float64 {
	to := next.Unit()
	cos := l.dir.Dot(to)
	if cos < turnBack {
		l.stop = true
		c.add(l)
		return 0
	}
	sin := math.Sqrt(max(0, (1+cos)/2)) // of φ; 1: straight on
	if sin > 1-1e-12 {
		c.add(l)
		return 0
	}
	tan := sin / math.Sqrt(1-sin*sin)
	r := min(min(whole, next.Norm())/2*tan, blend*sin/(1-sin))
	t := r / tan
	l.length -= t
	c.add(l)
	turn := math.Atan2(l.dir.X*to.Y-l.dir.Y*to.X, cos)
	c.add(leg{from: l.at(l.length), dir: l.dir, bend: math.Copysign(1/r, turn), length: r * math.Abs(turn), speed: min(c.turning(l.dir, to), math.Sqrt(c.across*r))})
	return t
}

// turning is the speed at which an arc from one direction to another leaves
// both axes within their own: that of its ends, and of an axis it turns through.
func (c *course) turning(from, to frame.Spot[frame.Machine]) float64 {
	v := min(limit(from, c.told, c.axes[0], c.axes[1]), limit(to, c.told, c.axes[0], c.axes[1]))
	if from.X*to.X < 0 {
		v = min(v, c.axes[1])
	}
	if from.Y*to.Y < 0 {
		v = min(v, c.axes[0])
	}
	return v
}

func (c *course) add(l leg) {
	if n := len(c.legs); n > 0 {
		l.start = c.legs[n-1].start + c.legs[n-1].length
	}
	l.length = max(0, l.length)
	c.legs = append(c.legs, l)
}

// jerk is the axis' jerk; ten times its acceleration a second, as for a rig
// file without one.
func jerk(a rig.Axis) float64 {
	if a.Jerk > 0 {
		return float64(a.Jerk)
	}
	return 10 * float64(a.Acceleration)
}

// limit is the most along dir that leaves each axis within its own; 0 for
// along means the stroke gives no limit.
func limit(dir frame.Spot[frame.Machine], along, x, y float64) float64 {
	most := math.Inf(1)
	if along > 0 {
		most = along
	}
	if dir.X != 0 {
		most = min(most, x/math.Abs(dir.X))
	}
	if dir.Y != 0 {
		most = min(most, y/math.Abs(dir.Y))
	}
	return most
}
