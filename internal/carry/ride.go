package carry

import (
	"math"

	"boardhand/internal/lanes"
)

// ride is how the carriage drives a path: along a track, hill after hill.
type ride struct {
	track []bit
	hills []hill
}

// rides plans the drive along a polyline from rest to rest, in as many parts
// as there are reversals.
func rides(path []lanes.Spot, d Drive) []ride {
	var out []ride
	p := d.over(path)
	for _, t := range tracks(path, float64(Blend)) {
		tops := d.stretches(t)
		if len(tops) == 0 {
			continue
		}
		r := ride{track: t}
		r.climb(p, tops, knot{}, knot{at: tops[len(tops)-1].end})
		out = append(out, r)
	}
	return out
}

// rideTime is how long the carriage takes along a polyline, seconds.
func rideTime(path []lanes.Spot, d Drive) float64 {
	t := 0.0
	for _, r := range rides(path, d) {
		t += r.time()
	}
	return t
}

func (r ride) time() float64 {
	t := 0.0
	for _, h := range r.hills {
		t += h.time()
	}
	return t
}

// knot is a place of a track where the speed is settled: no acceleration.
type knot struct{ at, speed float64 }

// excess is the share by which a stretch's top speed may be passed: rounding.
const excess = 1e-6

// climb adds the hills from one knot to the next. Where the quickest hill is
// too fast for a stretch, the slowest such stretch is run at its top speed and
// the two sides are climbed by themselves.
func (r *ride) climb(p pace, tops []stretch, a, b knot) {
	if b.at-a.at < 1e-12 {
		return
	}
	top := 0.0
	for i, t := range tops {
		if begin(tops, i) < b.at && t.end > a.at {
			top = math.Max(top, t.top)
		}
	}
	h := p.hill(a.at, b.at-a.at, a.speed, b.speed, top)
	slow := -1
	for i, t := range tops {
		from, to := math.Max(a.at, begin(tops, i)), math.Min(b.at, t.end)
		if to-from > 1e-12 && (slow < 0 || t.top < tops[slow].top) && h.fastest(from, to) > t.top*(1+excess) {
			slow = i
		}
	}
	if slow < 0 {
		r.hills = append(r.hills, h)
		return
	}
	k, l := p.shelf(tops, slow, a, b)
	r.climb(p, tops, a, k)
	if l.at > k.at {
		r.hills = append(r.hills, p.hill(k.at, l.at-k.at, k.speed, l.speed, k.speed))
	}
	r.climb(p, tops, l, b)
}

func begin(tops []stretch, i int) float64 {
	if i == 0 {
		return 0
	}
	return tops[i-1].end
}

// shelf is where stretch i is run at its top speed: from its begin, or from
// where that speed can be reached, to its end, or to where it must be left. The
// quickest hill is faster than that, so the ramps on both sides do fit.
func (p pace) shelf(tops []stretch, i int, a, b knot) (k, l knot) {
	v := tops[i].top
	reached := a.at + p.ramp(a.speed, v).length()
	left := b.at - p.ramp(v, b.speed).length()
	from, to := math.Max(begin(tops, i), reached), math.Min(tops[i].end, left)
	if from > to && reached > tops[i].end {
		to = from
	} else if from > to {
		from = to
	}
	return knot{from, v}, knot{to, v}
}

// Stamp is where the carriage is at a time.
type Stamp struct {
	Time  float64    // s from the step's start
	Along float64    // m driven since
	At    lanes.Spot // of the magnet's axis
}

// stampEvery is the time between two stamps at most, s: at 120 mm/s on an arc
// of 20 mm the chord between two leaves it by 9 µm.
const stampEvery = 0.010

// stamps drive a path in thought.
func stamps(path []lanes.Spot, d Drive) []Stamp {
	if len(path) == 0 {
		return nil
	}
	rs := rides(path, d)
	total := 0.0
	for _, r := range rs {
		total += r.time()
	}
	n := int(math.Ceil(total / stampEvery))
	out := make([]Stamp, 0, n+1)
	began, driven := 0.0, 0.0
	k := 0
	for i, r := range rs {
		end, c := began+r.time(), cursor{ride: r}
		for ; k < n && (total*float64(k)/float64(n) < end || i == len(rs)-1); k++ {
			t := total * float64(k) / float64(n)
			s, at := c.at(t - began)
			out = append(out, Stamp{t, driven + s, at})
		}
		began, driven = end, driven+lengthOfTrack(r.track)
	}
	return append(out, Stamp{total, driven, path[len(path)-1]})
}

func lengthOfTrack(track []bit) float64 {
	l := 0.0
	for _, b := range track {
		l += b.length
	}
	return l
}

// cursor reads a ride at times that do not go back.
type cursor struct {
	ride ride
	hill int
	past float64 // time of the hills before
	bit  int
	gone float64 // length of the bits before
}

func (c *cursor) at(t float64) (along float64, at lanes.Spot) {
	for c.hill < len(c.ride.hills)-1 && t-c.past >= c.ride.hills[c.hill].time() {
		c.past += c.ride.hills[c.hill].time()
		c.hill++
	}
	s, _ := c.ride.hills[c.hill].at(math.Max(0, t-c.past))
	for c.bit < len(c.ride.track)-1 && s-c.gone >= c.ride.track[c.bit].length {
		c.gone += c.ride.track[c.bit].length
		c.bit++
	}
	b := c.ride.track[c.bit]
	return s, b.at(math.Min(s-c.gone, b.length))
}
