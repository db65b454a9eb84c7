// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
)

type spot = frame.Spot[frame.Machine]

// sample is where a ride has the carriage.
type sample struct {
	time   float64 // s since the stroke's start
	at     spot    // m
	isStop bool    // the carriage stands there and turns round
}

// rideOf is how a stroke is to be driven: corners rounded, acceleration changing no
// faster than the jerk, evenly in time and at most a hundredth of a second apart.
// It is the ride that plans are checked on (carry/trajectory), in the plane of the
// machine's axes, play taken up.
func rideOf(at spot, s motion.Stroke, axes [2]plan.Bounds) []sample {
	path := []frame.Spot[frame.Board]{on(at)}
	for _, p := range s.Path {
		if on(p).Distance(path[len(path)-1]) > 1e-9 {
			path = append(path, on(p))
		}
	}
	if len(path) < 2 {
		return nil
	}
	d := plan.Drive{Most: plan.Bounds{Speed: orInf(float64(s.Speed)), Accel: orInf(float64(s.Accel)), Jerk: orInf(float64(s.Jerk))}, Axes: axes}
	whole := trajectory.Over(path, d)
	d.Most.Accel, d.Most.Jerk = whole.Accel, whole.Jerk
	out := []sample{{at: at}}
	for _, part := range parts(path) {
		began := out[len(out)-1].time
		out[len(out)-1].isStop = true
		for _, m := range trajectory.Samples(part, d)[1:] {
			out = append(out, sample{time: began + m.Time, at: spot{X: m.At.X, Y: m.At.Y}})
		}
	}
	out[len(out)-1].isStop = true
	return out
}

// on takes a place of the axes' plane for one of a plane: the formulas of a ride
// hold in any plane with the axes along its sides.
func on(p spot) frame.Spot[frame.Board] { return frame.Spot[frame.Board](p) }

// orInf is a limit; 0: none.
func orInf(v float64) float64 {
	if v > 0 {
		return v
	}
	return math.Inf(1)
}

// parts cuts a path where it turns round: there the carriage stands.
func parts(path []frame.Spot[frame.Board]) (out [][]frame.Spot[frame.Board]) {
	from := 0
	for i := 1; i+1 < len(path); i++ {
		before, after := path[i].Sub(path[i-1]).Unit(), path[i+1].Sub(path[i]).Unit()
		if before.Dot(after) < turnsRound {
			out = append(out, path[from:i+1])
			from = i
		}
	}
	return append(out, path[from:])
}
