// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"math"
	"strconv"
	"strings"

	"boardhand/internal/carry/plan"
	"boardhand/internal/motion"
)

// program is a stroke as lines.
type program struct {
	lines   []string
	blocks  []block
	end     spot
	seconds float64 // that the controller takes for it, predicted
	longest float64 // of one line, s
}

// writer makes programs for one controller.
type writer struct {
	planner planner
	axes    [2]plan.Bounds // of the rig
	steps   [2]float64     // a metre
	zero    [2]float64     // of the rig's axes in the controller's coordinates, m
	baud    int
	proof   proof
}

// grain is how fine the controller and the wire let a ride be cut.
func (w writer) grain(isProved bool) grain {
	const bits = 10 // a byte on the wire
	g := grain{time: lineTime, length: lineLength, chord: math.Min(chord, chordShare*w.planner.junction)}
	if w.baud > 0 {
		each := float64(lineBytes)
		if isProved {
			each += proofBytes
		}
		g.time = math.Max(g.time, each*bits/(wireShare*float64(w.baud)))
	}
	g.length = math.Max(g.length, lineSteps/math.Min(w.steps[0], w.steps[1]))
	return g
}

// program makes lines of a stroke that starts at a place. Where the lines that the
// controller plans ahead are too short to slow down in, they are made longer. Each line is
// proved where that is wanted and can be.
func (w writer) program(at spot, s motion.Stroke, isProved bool) program {
	isProved = isProved && w.proof.radius > 0
	ride := rideOf(at, s, w.axes)
	p := program{end: at}
	if len(ride) == 0 {
		return p
	}
	p.end = ride[len(ride)-1].at
	var times []float64
	for g := w.grain(isProved); ; g.time *= 1.5 {
		p.blocks = cut(ride, g)
		times = w.pace(p.blocks, orInf(float64(s.Speed)))
		free := w.planner.forecast(p.blocks, len(p.blocks))
		if times[len(times)-1] < 1.01*free[len(free)-1] || g.time > longestGrain {
			break
		}
	}
	p.seconds = times[len(times)-1]
	for i := range p.blocks {
		p.longest = math.Max(p.longest, times[i+1]-times[i])
	}
	if isProved {
		p.blocks = w.snapped(p.blocks)
	}
	for _, l := range w.lines(at, p.blocks) {
		p.lines = append(p.lines, l.text)
		if isProved {
			p.lines = append(p.lines, w.proof.of(l.x, l.y))
		}
	}
	return p
}

// pace gives lines their feeds and returns the forecast. The controller gains all
// of its acceleration at once, and never more than that: where a ride's rises
// faster than the mean of a line, a few milliseconds are lost. From one stop to the
// next the lines make up for that together, within the stroke's speed.
func (w writer) pace(bs []block, most float64) (times []float64) {
	w.planner.measure(bs)
	lasts := make([]float64, len(bs))
	for i, b := range bs {
		lasts[i] = b.lasts
		bs[i].top = math.Min(b.top, most)
	}
	for range paceTries {
		feeds(bs)
		for i := range bs {
			bs[i].feed = math.Max(1, math.Round(bs[i].feed*perMinute*10)) / 10 / perMinute
		}
		times = w.planner.forecast(bs, w.planner.blocks)
		due, first := 0.0, 0
		for i := range bs {
			if due += lasts[i]; bs[i].isStop {
				share := due / (times[i+1] - times[first])
				for ; first <= i; first++ {
					bs[first].lasts *= share
				}
				due = 0
			}
		}
	}
	return times
}

// motionWord begins each line of motion: straight, at a feed, in machine coordinates.
const motionWord = "G53G1"

// perMinute turns m/s into mm/min.
const perMinute = 60e3

// line is a motion with the place that it leads to, as written.
type line struct{ text, x, y string }

// lines writes blocks as G1 in machine coordinates; words that do not change are
// left out, and lines that move nothing.
func (w writer) lines(at spot, bs []block) (out []line) {
	x, y, f := millimetres(at.X+w.zero[0]), millimetres(at.Y+w.zero[1]), ""
	for _, b := range bs {
		var text strings.Builder
		text.WriteString(motionWord)
		toX, toY, feed := millimetres(b.to.X+w.zero[0]), millimetres(b.to.Y+w.zero[1]), strconv.FormatFloat(b.feed*perMinute, 'f', 1, 64)
		if toX == x && toY == y {
			continue
		}
		if toX != x {
			text.WriteString("X" + toX)
		}
		if toY != y {
			text.WriteString("Y" + toY)
		}
		if feed != f {
			text.WriteString("F" + strings.TrimSuffix(feed, ".0"))
		}
		x, y, f = toX, toY, feed
		out = append(out, line{text.String(), x, y})
	}
	return out
}

// snapped has blocks end on whole steps: only there a circle of less than a step moves
// nothing for sure.
func (w writer) snapped(bs []block) []block {
	snap := func(v float64, axis int) float64 {
		return math.Round((v+w.zero[axis])*w.steps[axis])/w.steps[axis] - w.zero[axis]
	}
	for i := range bs {
		bs[i].to = spot{X: snap(bs[i].to.X, 0), Y: snap(bs[i].to.Y, 1)}
	}
	return bs
}
