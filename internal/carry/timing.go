package carry

import (
	"math"

	"boardhand/internal/lanes"
)

// runTime predicts how long the carriage takes along a polyline, from rest to
// rest: at each corner no faster than the sideways acceleration allows on a
// round of the size the corner has room for, between them as fast as speed
// and acceleration let it. Seconds; speed in m/s, accel in m/s². Trapezoid
// phases (Biagiotti and Melchiorri, Trajectory Planning, ch. 3, from memory).
func runTime(path []lanes.Spot, speed, accel float64) float64 {
	if len(path) < 2 {
		return 0
	}
	v := cornerSpeeds(path, speed, accel)
	n := len(path) - 1
	v[0], v[n] = 0, 0
	for i := range n {
		v[i+1] = math.Min(v[i+1], math.Sqrt(v[i]*v[i]+2*accel*path[i].Distance(path[i+1])))
	}
	for i := n; i > 0; i-- {
		v[i-1] = math.Min(v[i-1], math.Sqrt(v[i]*v[i]+2*accel*path[i].Distance(path[i-1])))
	}
	t := 0.0
	for i := range n {
		t += rampTime(path[i].Distance(path[i+1]), v[i], v[i+1], speed, accel)
	}
	return t
}

// rampTime is the time over distance d from speed u to speed w.
func rampTime(d, u, w, speed, accel float64) float64 {
	if d == 0 {
		return 0
	}
	peak := math.Sqrt(accel*d + (u*u+w*w)/2)
	if peak <= speed {
		return math.Max(0, (2*peak-u-w)/accel)
	}
	ramps := (2*speed*speed - u*u - w*w) / (2 * accel)
	return (2*speed-u-w)/accel + math.Max(0, d-ramps)/speed
}

// cornerCut is how far a corner may be cut in thought, metres: a man feels
// nothing of 20 µm.
const cornerCut = 20e-6

// cornerSpeeds are the speeds allowed at each corner: on the round that fits
// between its neighbours, or on the one that cuts the corner by cornerCut,
// v² = a δ sin(θ/2)/(1 − sin(θ/2)) with θ between the two pieces (junction
// deviation, as open motion firmware does it).
func cornerSpeeds(path []lanes.Spot, speed, accel float64) []float64 {
	v := make([]float64, len(path))
	for i := range v {
		v[i] = speed
	}
	for i := 1; i < len(path)-1; i++ {
		a, b := path[i].Sub(path[i-1]), path[i+1].Sub(path[i])
		turn := math.Abs(math.Atan2(a.X*b.Y-a.Y*b.X, a.Dot(b)))
		if turn < 1e-6 {
			continue
		}
		radius := math.Min(a.Norm(), b.Norm()) / 2 / math.Tan(turn/2)
		half := math.Cos(turn / 2)
		radius = math.Max(radius, cornerCut*half/(1-half))
		v[i] = math.Min(speed, math.Sqrt(accel*math.Max(radius, 0)))
	}
	return v
}

// dragTime is the time to drag a man along a way and settle it, without the
// lift.
func (l Limits) dragTime(w lanes.Way) float64 {
	return runTime(lead(w.Points, l.Lag, l.Settle), l.CarrySpeed, l.CarryAccel)
}
