// SPDX-License-Identifier: Apache-2.0

package gcode

import "math"

// planner is what the controller plans motion by. Source of the settings: the
// firmware's published interface description; the corner speed is that of an arc
// which leaves the corner by the junction deviation.
type planner struct {
	rate     [2]float64 // m/s, of each axis
	accel    [2]float64 // m/s²
	junction float64    // junction deviation, m
	blocks   int        // that it plans ahead
}

// measure sets what the controller makes of each line whatever its feed.
func (p planner) measure(bs []block) {
	for i := range bs {
		u := bs[i].to.Sub(bs[i].from).Unit()
		bs[i].top, bs[i].accel = within(u, p.rate), within(u, p.accel)
		if i > 0 {
			bs[i].junction = p.corner(bs[i-1].to.Sub(bs[i-1].from).Unit(), u)
		}
		if i > 0 && bs[i-1].isStop {
			bs[i].junction = 0
		}
	}
}

// within is the most along u that leaves each axis within its own.
func within(u spot, axes [2]float64) float64 {
	most := math.Inf(1)
	for i, c := range [2]float64{math.Abs(u.X), math.Abs(u.Y)} {
		if c > 0 {
			most = math.Min(most, axes[i]/c)
		}
	}
	return most
}

// corner is the speed from one direction into another, m/s.
func (p planner) corner(from, to spot) float64 {
	cos := -from.Dot(to)
	if cos > 0.999999 {
		return 0
	}
	if cos < -0.999999 {
		return math.Inf(1)
	}
	sin := math.Sqrt((1 - cos) / 2)
	return math.Sqrt(within(to.Sub(from).Unit(), p.accel) * p.junction * sin / (1 - sin))
}

// feeds gives each line the feed with which the controller takes as long for it
// as the ride does. The slowest lines come first: a faster one gains speed at its
// start and loses it at its end, all within itself.
func feeds(bs []block) {
	isDone := make([]bool, len(bs))
	for range bs {
		k := -1
		for i, b := range bs {
			if !isDone[i] && (k < 0 || b.length*bs[k].lasts < bs[k].length*b.lasts) {
				k = i
			}
		}
		isDone[k] = true
		in, out := math.Inf(1), math.Inf(1)
		if k > 0 && isDone[k-1] {
			in = bs[k-1].feed
		}
		if k+1 < len(bs) && isDone[k+1] {
			out = bs[k+1].feed
		}
		in = math.Min(in, bs[k].junction)
		if k+1 < len(bs) {
			out = math.Min(out, bs[k+1].junction)
		} else {
			out = 0
		}
		bs[k].feed = bs[k].feedFor(in, out)
	}
}

// feedFor is the feed with which a line entered and left no faster than in and
// out takes the time it is to last; the quickest when it cannot.
func (b block) feedFor(in, out float64) float64 {
	lo, hi := 0.0, math.Min(b.top, b.reach(in, out))
	for range 50 {
		f := (lo + hi) / 2
		if b.timeAt(in, out, f) > b.lasts {
			lo = f
		} else {
			hi = f
		}
	}
	return hi
}

// reach is the most that a line entered and left no faster than in and out
// gets to: the next one begins at that speed.
func (b block) reach(in, out float64) float64 {
	gain := 2 * b.accel * b.length
	ends := (in*in + out*out + gain) / 2
	return math.Sqrt(math.Min(ends, math.Min(in*in, out*out)+gain))
}

// timeAt is how long it takes at a feed, entered and left as fast as that and its
// length allow.
func (b block) timeAt(in, out, feed float64) float64 {
	in, out = math.Min(in, feed), math.Min(out, feed)
	gain := 2 * b.accel * b.length
	in, out = math.Min(in, math.Sqrt(out*out+gain)), math.Min(out, math.Sqrt(in*in+gain))
	return b.time(in, out, feed)
}

// time is how long a line takes that is entered and left with two speeds, s: at
// constant acceleration up to its feed and down again.
func (b block) time(in, out, feed float64) float64 {
	if feed <= 0 {
		return math.Inf(1)
	}
	peak := math.Min(feed, math.Sqrt((2*b.accel*b.length+in*in+out*out)/2))
	peak = math.Max(peak, math.Max(in, out))
	ramps := (2*peak*peak - in*in - out*out) / (2 * b.accel)
	return (2*peak-in-out)/b.accel + math.Max(0, b.length-ramps)/peak
}

// forecast is when the controller begins each line, and last when it is done, s:
// it stands by the end of what it has planned, window lines ahead.
func (p planner) forecast(bs []block, window int) []float64 {
	out := make([]float64, len(bs)+1)
	in := 0.0
	for k, b := range bs {
		leave := 0.0
		for i := min(k+window, len(bs)) - 1; i > k; i-- {
			leave = math.Sqrt(leave*leave + 2*bs[i].accel*bs[i].length)
			leave = math.Min(leave, math.Min(bs[i].junction, math.Min(bs[i].nominal(), bs[i-1].nominal())))
		}
		leave = math.Min(leave, math.Sqrt(in*in+2*b.accel*b.length))
		out[k+1] = out[k] + b.time(in, leave, b.nominal())
		in = leave
	}
	return out
}

// nominal is the speed of a line in the middle.
func (b block) nominal() float64 { return math.Min(b.feed, b.top) }
