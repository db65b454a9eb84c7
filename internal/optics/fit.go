// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/linear"
)

// Fitted is a view fitted to corners, with what the fit knows of its error.
type Fitted struct {
	View  View
	RMS   float64 // root of the mean squared distance between corner seen and predicted, px
	Sigma Lens    // standard deviations of the coefficients; 0 where held
	// covariance of (lens coefficients fitted, rotation vector and translation
	// in the camera frame, as small changes after the fit).
	covariance linear.Symmetric
	free       []int
	relief     int // how many ways of rising were fitted; they come last
	square     bool
}

// Fit moves lens and pose from a start to the least squares of the corners,
// each weighed by its sigma, together with the prior. Corners in any number
// that determines the free coefficients; six or more for a sound error.
func Fit(start View, seen []Corner, prior Prior) (Fitted, error) {
	b := newBundle([]View{start}, [][]Corner{seen}, prior)
	s, err := b.solve(fitTolerance)
	if err != nil {
		return Fitted{}, err
	}
	lens, views := b.unpack(s.P)
	f := Fitted{View: View{lens, views[0]}, free: b.free, relief: len(prior.Relief), square: prior.Square}
	sum, n := b.squares(s.P, 0)
	f.RMS = math.Sqrt(sum / math.Max(1, float64(n)))
	if f.covariance, err = s.Normal.ScaledInverse(); err != nil {
		return Fitted{}, determined(err)
	}
	// Corners that scatter more than their sigmas say tell the truer error.
	excess := math.Max(1, s.Cost/math.Max(1, b.measured()-float64(len(s.P))))
	f.covariance.Scale(excess)
	f.Sigma = b.deviations(f.covariance, 1)
	return f, nil
}

// SpotSigma is the standard deviation in px (along the worse direction) of
// where the fitted view puts a board point, from the corners' sigmas.
func (f Fitted) SpotSigma(p frame.Point[frame.Board]) float64 {
	n := len(f.free) + 6 + f.relief
	ju, jv := make([]float64, n), make([]float64, n)
	for j := range n {
		h := stepOf(f.free, j)
		a, _ := f.nudged(j, h).Project(p)
		b, _ := f.nudged(j, -h).Project(p)
		ju[j], jv[j] = (a.X-b.X)/(2*h), (a.Y-b.Y)/(2*h)
	}
	uu, uv, vv := f.covariance.Form(ju, ju), f.covariance.Form(ju, jv), f.covariance.Form(jv, jv)
	mean, half := (uu+vv)/2, math.Hypot((uu-vv)/2, uv)
	return math.Sqrt(math.Max(0, mean+half))
}

// HeightSigma is the standard deviation in metres of the camera's height.
func (f Fitted) HeightSigma() float64 { return f.PlaceSigma().Z }

// PlaceSigma is the standard deviation in metres of each coordinate of the camera's place,
// board frame, by the corners' sigmas and what the prior leaves open.
func (f Fitted) PlaceSigma() frame.Point[frame.Board] {
	n := len(f.free) + 6 + f.relief
	var g [3][]float64
	for j := range n {
		h := stepOf(f.free, j)
		d := f.nudged(j, h).Camera().Sub(f.nudged(j, -h).Camera())
		g[0], g[1], g[2] = append(g[0], d.X/(2*h)), append(g[1], d.Y/(2*h)), append(g[2], d.Z/(2*h))
	}
	sigma := func(k int) float64 { return math.Sqrt(math.Max(0, f.covariance.Form(g[k], g[k]))) }
	return frame.Point[frame.Board]{X: sigma(0), Y: sigma(1), Z: sigma(2)}
}

// nudged returns the view with parameter j of the fit changed by d.
func (f Fitted) nudged(j int, d float64) View {
	v := f.View
	if j < len(f.free) {
		ratio := v.Lens.Fy / v.Lens.Fx
		*v.Lens.coefficients()[f.free[j]] += d
		if f.square {
			v.Lens.Fy = v.Lens.Fx * ratio
		}
		return v
	}
	var w [6]float64
	if j -= len(f.free); j >= len(w) {
		return v // the mean plane stays
	}
	w[j] = d
	v.CameraFromBoard = turned(v.CameraFromBoard, w[:])
	return v
}

// turned applies a small rotation vector w[0:3] in the camera frame and a
// shift w[3:6] to a pose.
func turned(p frame.Pose[frame.Camera, frame.Board], w []float64) frame.Pose[frame.Camera, frame.Board] {
	return frame.Pose[frame.Camera, frame.Board]{
		R: frame.FromVector([3]float64{w[0], w[1], w[2]}).Mul(p.R),
		T: p.T.Add(frame.Point[frame.Camera]{X: w[3], Y: w[4], Z: w[5]}),
	}
}
