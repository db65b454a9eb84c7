// SPDX-License-Identifier: Apache-2.0

package gcode

import "math"

// block is one straight line of a stroke, as the controller plans it.
type block struct {
	from, to spot
	length   float64 // m
	lasts    float64 // s that the ride takes for it
	isStop   bool    // the carriage stands at its end
	feed     float64 // m/s that the line asks for
	top      float64 // m/s that the axes allow in its direction
	accel    float64 // m/s² that the controller uses in its direction
	junction float64 // m/s at which the controller takes the corner at its start
}

// grain is how fine a ride may be cut.
type grain struct {
	time   float64 // s, least
	length float64 // m, least
	chord  float64 // m, by which a line may leave the ride
}

// cut makes lines of a ride: each as long as the grain at least, longer where the
// speed is even, and never further from the ride than the chord.
func cut(ride []sample, g grain) []block {
	var out []block
	first := 0 // block after the last stop
	for i := 0; i+1 < len(ride); {
		j := i + 1
		for !ride[j].isStop && g.fits(ride[i:j+2]) && (isShort(ride[i], ride[j], g) || isEven(ride[i:j+2])) {
			j++
		}
		out = append(out, newBlock(ride[i], ride[j]))
		if ride[j].isStop {
			out = join(out, first, g)
			first = len(out)
		}
		i = j
	}
	return out
}

// join makes the last line one with that before it, when it is too short and
// they lie in one line.
func join(out []block, first int, g grain) []block {
	for n := len(out); n-1 > first && (out[n-1].length < g.length || out[n-1].lasts < g.time); n = len(out) {
		a, b := out[n-2], out[n-1]
		if away(a.from, b.to, a.to) > g.chord {
			break
		}
		a.to, a.length, a.lasts, a.isStop = b.to, a.from.Distance(b.to), a.lasts+b.lasts, b.isStop
		out = append(out[:n-2], a)
	}
	return out
}

func newBlock(a, b sample) block {
	return block{from: a.at, to: b.at, length: a.at.Distance(b.at), lasts: b.time - a.time, isStop: b.isStop}
}

func isShort(a, b sample, g grain) bool {
	return b.time-a.time < g.time-1e-9 || a.at.Distance(b.at) < g.length
}

// fits says whether a straight line from the first to the last leaves none
// between by more than the chord.
func (g grain) fits(s []sample) bool {
	for _, m := range s[1 : len(s)-1] {
		if away(s[0].at, s[len(s)-1].at, m.at) > g.chord {
			return false
		}
	}
	return true
}

// away is the distance of a place from the straight line between two, m.
func away(a, b, p spot) float64 {
	ab := b.Sub(a)
	n := ab.Dot(ab)
	if n == 0 {
		return a.Distance(p)
	}
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(ab)/n))
	return a.Add(ab.Scale(t)).Distance(p)
}

// isEven says whether all samples are driven through at one speed.
func isEven(s []sample) bool {
	v := s[0].at.Distance(s[1].at) / (s[1].time - s[0].time)
	n := len(s)
	w := s[n-2].at.Distance(s[n-1].at) / (s[n-1].time - s[n-2].time)
	mean := s[0].at.Distance(s[n-1].at) / (s[n-1].time - s[0].time)
	return math.Abs(v-w) <= even*w && math.Abs(mean-w) <= even*w
}
