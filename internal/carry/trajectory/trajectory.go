// SPDX-License-Identifier: Apache-2.0

// Package trajectory makes a motion in time of a path: corners rounded, speeds
// within what path and axes allow, acceleration changing no faster than the
// jerk limit; and it tells how a piece dragged along that path follows. Frame
// Board, metres, seconds.
package trajectory

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
)

// spot is a place on the board plane, metres.
type spot = frame.Spot[frame.Board]

// ride is how the carriage drives a path: along a track, profile after profile.
type trajectory struct {
	segments []segment
	profiles []profile
}

// rides plans the drive along a polyline from rest to rest, in as many parts
// as there are reversals.
func trajectories(path []spot, d drive) []trajectory {
	var out []trajectory
	p := d.over(path)
	for _, t := range segmented(path, float64(motion.Blend)) {
		tops := d.sections(t)
		if len(tops) == 0 {
			continue
		}
		r := trajectory{segments: t}
		r.connect(p, tops, waypoint{}, waypoint{at: tops[len(tops)-1].end})
		out = append(out, r)
	}
	return out
}

// Time is how long the carriage takes along a polyline from rest to rest,
// seconds.
func Time(path []frame.Spot[frame.Board], d plan.Drive) float64 {
	t := 0.0
	for _, r := range trajectories(path, drive(d)) {
		t += r.time()
	}
	return t
}

func (r trajectory) time() float64 {
	t := 0.0
	for _, h := range r.profiles {
		t += h.time()
	}
	return t
}

// waypoint is a place of a track where the speed is settled: no acceleration.
type waypoint struct{ at, speed float64 }

// excess is the share by which a section's top speed may be passed: rounding.
const excess = 1e-6

// connect adds the profiles from one waypoint to the next. Where the quickest profile is
// too fast for a section, the slowest such section is run at its top speed and
// the two sides are connected by themselves.
func (r *trajectory) connect(p bounds, tops []section, a, b waypoint) {
	if b.at-a.at < 1e-12 {
		return
	}
	top := 0.0
	for i, t := range tops {
		if begin(tops, i) < b.at && t.end > a.at {
			top = math.Max(top, t.top)
		}
	}
	h := p.profile(a.at, b.at-a.at, a.speed, b.speed, top)
	slow := -1
	for i, t := range tops {
		from, to := math.Max(a.at, begin(tops, i)), math.Min(b.at, t.end)
		if to-from > 1e-12 && (slow < 0 || t.top < tops[slow].top) && h.fastest(from, to) > t.top*(1+excess) {
			slow = i
		}
	}
	if slow < 0 {
		r.profiles = append(r.profiles, h)
		return
	}
	k, l := p.shelf(tops, slow, a, b)
	r.connect(p, tops, a, k)
	if l.at > k.at {
		r.profiles = append(r.profiles, p.profile(k.at, l.at-k.at, k.speed, l.speed, k.speed))
	}
	r.connect(p, tops, l, b)
}

func begin(tops []section, i int) float64 {
	if i == 0 {
		return 0
	}
	return tops[i-1].end
}

// shelf is where section i is run at its top speed: from its begin, or from
// where that speed can be reached, to its end, or to where it must be left. The
// quickest profile is faster than that, so the ramps on both sides do fit.
func (p bounds) shelf(tops []section, i int, a, b waypoint) (k, l waypoint) {
	v := tops[i].top
	reached := a.at + p.ramp(a.speed, v).length()
	left := b.at - p.ramp(v, b.speed).length()
	from, to := math.Max(begin(tops, i), reached), math.Min(tops[i].end, left)
	if from > to && reached > tops[i].end {
		to = from
	} else if from > to {
		from = to
	}
	return waypoint{from, v}, waypoint{to, v}
}

// sampleEvery is the time between two samples at most, s: at 120 mm/s on an arc
// of 20 mm the chord between two leaves it by 9 µm.
const sampleEvery = 0.010

// Samples drive a polyline in thought, from rest to rest: evenly in time, at
// most a hundredth of a second apart; nil for no path.
func Samples(path []frame.Spot[frame.Board], d plan.Drive) []plan.Sample {
	if len(path) == 0 {
		return nil
	}
	rs := trajectories(path, drive(d))
	total := 0.0
	for _, r := range rs {
		total += r.time()
	}
	n := int(math.Ceil(total / sampleEvery))
	out := make([]plan.Sample, 0, n+1)
	began, driven := 0.0, 0.0
	k := 0
	for i, r := range rs {
		end, c := began+r.time(), cursor{trajectory: r}
		for ; k < n && (total*float64(k)/float64(n) < end || i == len(rs)-1); k++ {
			t := total * float64(k) / float64(n)
			s, at := c.at(t - began)
			out = append(out, plan.Sample{Time: t, Along: driven + s, At: at})
		}
		began, driven = end, driven+lengthOfSegments(r.segments)
	}
	return append(out, plan.Sample{Time: total, Along: driven, At: path[len(path)-1]})
}

func lengthOfSegments(segments []segment) float64 {
	l := 0.0
	for _, b := range segments {
		l += b.length
	}
	return l
}

// cursor reads a trajectory at times that do not go back.
type cursor struct {
	trajectory trajectory
	profile    int
	past       float64 // time of the profiles before
	segment    int
	gone       float64 // length of the segments before
}

func (c *cursor) at(t float64) (along float64, at spot) {
	for c.profile < len(c.trajectory.profiles)-1 && t-c.past >= c.trajectory.profiles[c.profile].time() {
		c.past += c.trajectory.profiles[c.profile].time()
		c.profile++
	}
	s, _ := c.trajectory.profiles[c.profile].at(math.Max(0, t-c.past))
	for c.segment < len(c.trajectory.segments)-1 && s-c.gone >= c.trajectory.segments[c.segment].length {
		c.gone += c.trajectory.segments[c.segment].length
		c.segment++
	}
	b := c.trajectory.segments[c.segment]
	return s, b.at(math.Min(s-c.gone, b.length))
}
