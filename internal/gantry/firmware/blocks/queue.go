// SPDX-License-Identifier: Apache-2.0

// Package blocks is the motion planner of the simulated G-code firmware: straight
// blocks in a short queue, run with limited acceleration, slowed for corners, with
// look-ahead over all blocks that wait. Lengths mm, times s. It is arithmetic:
// time comes in.
package blocks

import "math"

// Axes is how many axes there are.
const Axes = 3

// Capacity is how many blocks the queue holds, the one that runs among them
// (repository gnea/grbl, doc/markdown: [OPT:VL,16,128]).
const Capacity = 16

// Vector is a place or a direction, one number an axis, mm.
type Vector [Axes]float64

// Limits of the machine.
type Limits struct {
	Rate      Vector  // fastest of each axis, mm/s
	Accel     Vector  // mm/s²
	Deviation float64 // junction deviation, mm
}

// Feed is how fast a block is asked to run.
type Feed struct {
	Rapid bool    // at the axes' own rates
	Speed float64 // along the block, mm/s
}

// block is one straight move.
type block struct {
	from, unit Vector
	length     float64
	feed       Feed
	most       float64 // speed at which one axis is at its rate, mm/s
	accel      float64 // along it
	junction   float64 // fastest into it for the corner's sake
	entry      float64 // planned, mm/s
}

// Queue holds the blocks and runs them.
type Queue struct {
	limits      Limits
	blocks      []*block
	end         Vector  // of the last block
	done, speed float64 // of the block that runs: mm, mm/s
	held        bool
	feed, rapid float64 // overrides, 1: as asked
}

// New makes an empty queue at a place.
func New(l Limits, at Vector) *Queue { return &Queue{limits: l, end: at, feed: 1, rapid: 1} }

// SetLimits gives new limits to blocks added from now on.
func (q *Queue) SetLimits(l Limits) { q.limits = l }

// Len is how many blocks there are, the one that runs among them.
func (q *Queue) Len() int { return len(q.blocks) }

// End is where the last block ends.
func (q *Queue) End() Vector { return q.end }

// Position is where the machine is now.
func (q *Queue) Position() Vector {
	if len(q.blocks) == 0 {
		return q.end
	}
	b := q.blocks[0]
	return b.from.Plus(b.unit, q.done)
}

// Speed is how fast the machine moves along its way now, mm/s.
func (q *Queue) Speed() float64 { return q.speed }

// IsLastBraking says whether all that is left is the slowing-down of the last block.
func (q *Queue) IsLastBraking() bool {
	return len(q.blocks) == 1 && q.speed > 0 && !q.held && q.current().brakes()
}

// Add appends a move to a place; false: there is no room, or no way to go.
func (q *Queue) Add(to Vector, f Feed) bool {
	d := q.end.to(to)
	length := d.norm()
	if len(q.blocks) >= Capacity || length == 0 {
		return false
	}
	b := &block{from: q.end, unit: d.scaled(1 / length), length: length, feed: f}
	b.most = b.unit.limit(q.limits.Rate)
	b.accel = b.unit.limit(q.limits.Accel)
	if n := len(q.blocks); n > 0 {
		b.junction = Junction(q.blocks[n-1].unit, b.unit, q.limits)
	}
	q.blocks, q.end = append(q.blocks, b), to
	q.plan()
	return true
}

// Junction is the fastest speed from one direction into another, mm/s: that of a
// circle that touches both and leaves the corner by the deviation,
// v² = a·d·sin(θ/2)/(1−sin(θ/2)), θ the angle between the ways at the corner (a way
// straight on: 180°), a what the axes allow along the change of direction.
// Source: the open firmware's planner, from memory.
func Junction(in, out Vector, l Limits) float64 {
	cos := -in.dot(out)
	switch {
	case cos > straightOn:
		return 0
	case cos < -straightOn:
		return math.Inf(1)
	}
	half := math.Sqrt((1 - cos) / 2)
	turn := in.to(out)
	a := turn.scaled(1 / turn.norm()).limit(l.Accel)
	return math.Sqrt(a * l.Deviation * half / (1 - half))
}

// nominal is how fast a block may run under today's overrides, mm/s.
func (q *Queue) nominal(b *block) float64 {
	if b.feed.Rapid {
		return b.most * q.rapid
	}
	return math.Min(b.most, b.feed.Speed*q.feed)
}

// Override sets the overrides of feed and rapids, 1: as asked.
func (q *Queue) Override(feed, rapid float64) {
	q.feed, q.rapid = feed, rapid
	q.plan()
}

// plan works the speeds between blocks out: backwards so that the machine can
// stop at the end, forwards so that it can reach them.
func (q *Queue) plan() {
	exit := 0.0
	for i := len(q.blocks) - 1; i > 0; i-- {
		b := q.blocks[i]
		most := math.Min(b.junction, math.Min(q.nominal(b), q.nominal(q.blocks[i-1])))
		b.entry = math.Min(most, math.Sqrt(exit*exit+2*b.accel*b.length))
		exit = b.entry
	}
	speed := q.speed
	for i := 0; i+1 < len(q.blocks); i++ {
		b, left := q.blocks[i], q.blocks[i].length
		if i == 0 {
			left -= q.done
		}
		next := q.blocks[i+1]
		next.entry = math.Min(next.entry, math.Sqrt(speed*speed+2*b.accel*math.Max(0, left)))
		speed = next.entry
	}
}

// current is what is left of the block that runs.
func (q *Queue) current() run {
	b := q.blocks[0]
	r := run{left: b.length - q.done, now: q.speed, nominal: q.nominal(b), accel: b.accel}
	if len(q.blocks) > 1 {
		r.exit = q.blocks[1].entry
	}
	return r
}

// UntilNext is how long the block that runs takes to its end, or to a stop when
// motion is held, s; +Inf: nothing moves.
func (q *Queue) UntilNext() float64 {
	switch {
	case len(q.blocks) == 0 || q.held && q.speed == 0:
		return math.Inf(1)
	case q.held:
		t, _ := q.braking()
		return t
	}
	return q.current().duration()
}

// braking is how long the held machine takes to stop or to leave its block.
func (q *Queue) braking() (t float64, leaves bool) {
	b := q.blocks[0]
	left := b.length - q.done
	if q.speed*q.speed/(2*b.accel) <= left {
		return q.speed / b.accel, false
	}
	end := math.Sqrt(q.speed*q.speed - 2*b.accel*left)
	return (q.speed - end) / b.accel, true
}

// Advance lets dt seconds pass, no longer than UntilNext; true: a block ended.
func (q *Queue) Advance(dt float64) bool {
	switch {
	case len(q.blocks) == 0:
		return false
	case q.held:
		return q.brake(dt)
	}
	r := q.current()
	if dt >= r.duration() {
		_, q.speed = r.after(r.duration())
		return q.next()
	}
	way, speed := r.after(dt)
	q.done, q.speed = q.done+way, speed
	return false
}

// brake slows the held machine for dt seconds.
func (q *Queue) brake(dt float64) bool {
	b := q.blocks[0]
	t, leaves := q.braking()
	if dt < t {
		q.done += q.speed*dt - b.accel*dt*dt/2
		q.speed -= b.accel * dt
		return false
	}
	q.done += q.speed*t - b.accel*t*t/2
	q.speed = math.Max(0, q.speed-b.accel*t)
	if !leaves {
		q.speed = 0
		return false
	}
	return q.next()
}

// next goes on to the next block.
func (q *Queue) next() bool {
	q.blocks, q.done = q.blocks[1:], 0
	if len(q.blocks) == 0 {
		q.speed = 0
	}
	return true
}

// Hold slows the machine down to rest.
func (q *Queue) Hold() { q.held = true }

// IsHeld says whether motion is held.
func (q *Queue) IsHeld() bool { return q.held }

// Resume lets a held machine go on.
func (q *Queue) Resume() {
	q.held = false
	q.plan()
}

// Flush forgets all blocks; the machine stands where it is, at once.
func (q *Queue) Flush() {
	at := q.Position()
	q.blocks, q.done, q.speed, q.held = nil, 0, 0, false
	q.end = at
}

// Set says where the machine is; it must stand.
func (q *Queue) Set(at Vector) { q.end = at }
