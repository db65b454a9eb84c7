// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// What the page of controllers says of a ride: by what share its lines may take another time, and
// how far, m, the carriage may be from where the ride has it at the same time.
const otherTime, behindMost = 0.01, 1e-3

// benchWriter is a writer for a machine like the built-in rig's with stepper motors.
func benchWriter() writer {
	b := plan.Bounds{Speed: 0.12, Accel: 0.4, Jerk: 4}
	return writer{
		planner: planner{rate: [2]float64{0.12, 0.12}, accel: [2]float64{0.4, 0.4}, junction: 10e-6, blocks: bufferBlocks},
		axes:    [2]plan.Bounds{b, b}, steps: [2]float64{80e3, 80e3}, baud: 115200,
	}
}

// randomStroke has straight ways, bends, ways back and take-up of play.
func randomStroke(rnd *rand.Rand) (spot, motion.Stroke) {
	at := spot{X: 0.3 * rnd.Float64(), Y: 0.3 * rnd.Float64()}
	s := motion.Stroke{Path: []spot{at}, Speed: unit.Speed(0.03 + 0.1*rnd.Float64()),
		Accel: unit.Acceleration(0.1 + 0.3*rnd.Float64()), Jerk: unit.Jerk(1 + 4*rnd.Float64()), Blend: motion.Blend}
	head := 2 * math.Pi * rnd.Float64()
	for range 1 + rnd.IntN(8) {
		p := s.Path[len(s.Path)-1]
		head += 1.2 * rnd.NormFloat64()
		n := 0.001 + 0.06*rnd.Float64()
		q := spot{X: math.Max(0, math.Min(0.3, p.X+n*math.Cos(head))), Y: math.Max(0, math.Min(0.3, p.Y+n*math.Sin(head)))}
		s.Path = append(s.Path, q)
	}
	return at, s
}

// The lines take as long as the ride and lie on it, and the controller is where the
// ride is at the same time: stated in docs/controllers.md.
func TestLinesFollowTheRide(t *testing.T) {
	const seed = 11
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	w := benchWriter()
	late, behind, far, most, shortest := 0.0, 0.0, 0.0, 0, math.Inf(1)
	for range 100 {
		at, s := randomStroke(rnd)
		ride := rideOf(at, s, w.axes)
		p := w.program(at, s, false)
		total := ride[len(ride)-1].time
		late = math.Max(late, math.Abs(p.seconds-total)/total)
		times := w.planner.forecast(p.blocks, w.planner.blocks)
		k := 0
		for i, b := range p.blocks {
			for ; k < len(ride) && ride[k].at != b.to; k++ {
				far = math.Max(far, away(b.from, b.to, ride[k].at))
			}
			v := ride[k].at.Distance(ride[max(0, k-1)].at) / (ride[k].time - ride[k-1].time)
			if k+1 < len(ride) {
				v = math.Max(v, ride[k].at.Distance(ride[k+1].at)/(ride[k+1].time-ride[k].time))
			}
			if e := v * math.Abs(times[i+1]-ride[k].time); e > behind {
				behind = e
			}
			shortest = math.Min(shortest, times[i+1]-times[i])
		}
		most = max(most, len(p.lines))
	}
	t.Logf("100 strokes: at most %.1f %% other time, %.2f mm apart on the way, %.3f mm from the ride, %d lines, shortest %.1f ms", 100*late, 1e3*behind, 1e3*far, most, 1e3*shortest)
	if late > otherTime || behind > behindMost || far > chord {
		t.Error("the lines leave the ride, or take another time")
	}
}
