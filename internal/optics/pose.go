// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"

	"boardhand/internal/frame"
)

// Corner is a known place of the board (or of a printed checkerboard, in its
// own frame) and where it was seen.
type Corner struct {
	Board frame.Point[frame.Board]
	Seen  frame.Spot[frame.Image]
	Sigma float64 // standard deviation of each coordinate seen, px; 0 means 1
	// Normal, if not zero, is a unit vector in the picture: only the distance
	// along it was measured (a place on an edge instead of a corner).
	Normal frame.Spot[frame.Image]
}

// onEdge says that only one direction was measured.
func (c Corner) onEdge() bool { return c.Normal != frame.Spot[frame.Image]{} }

// PoseFromPlane places a camera with a known lens from four or more corners on
// the plane z = 0: the rays' homography, its columns made a rotation.
// A start for Fit, not a least-squares answer: exact without noise.
// Source: Z. Zhang, A flexible new technique for camera calibration, 2000, 3.1.
func PoseFromPlane(lens Lens, seen []Corner) (View, error) {
	pairs := make([]Pair, 0, len(seen))
	for _, c := range seen {
		x, y, err := lens.Ray(c.Seen)
		if err != nil {
			continue
		}
		pairs = append(pairs, Pair{c.Board.Spot(), frame.Spot[frame.Image]{X: x, Y: y}})
	}
	h, err := FindHomography(pairs)
	if err != nil {
		return View{}, err
	}
	pose, err := h.pose()
	return View{Lens: lens, CameraFromBoard: pose}, err
}

// pose reads rotation and translation out of a homography of rays.
func (h Homography) pose() (frame.Pose[frame.Camera, frame.Board], error) {
	a := [3]float64{h[0][0], h[1][0], h[2][0]}
	b := [3]float64{h[0][1], h[1][1], h[2][1]}
	na, nb := norm(a), norm(b)
	if !(na > 0 && nb > 0) {
		return frame.Pose[frame.Camera, frame.Board]{}, ErrSingular
	}
	k := 2 / (na + nb)
	if h[2][2] < 0 {
		k = -k
	}
	a, b = unitOf(a), unitOf(b)
	if k < 0 {
		a, b = scale(a, -1), scale(b, -1)
	}
	// The rotation nearest to both columns: share their error of squareness.
	sum, dif := unitOf(add(a, b)), unitOf(add(a, scale(b, -1)))
	if norm(sum) == 0 || norm(dif) == 0 {
		return frame.Pose[frame.Camera, frame.Board]{}, ErrSingular
	}
	a, b = scale(add(sum, dif), math.Sqrt2/2), scale(add(sum, scale(dif, -1)), math.Sqrt2/2)
	c := cross(a, b)
	var p frame.Pose[frame.Camera, frame.Board]
	for i := range 3 {
		p.R[i] = [3]float64{a[i], b[i], c[i]}
	}
	p.T = frame.Point[frame.Camera]{X: k * h[0][2], Y: k * h[1][2], Z: k * h[2][2]}
	return p, nil
}

func norm(a [3]float64) float64 { return math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2]) }

func scale(a [3]float64, k float64) [3]float64 { return [3]float64{k * a[0], k * a[1], k * a[2]} }

func add(a, b [3]float64) [3]float64 { return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// unitOf returns a scaled to length one, or zero if it has none.
func unitOf(a [3]float64) [3]float64 {
	if n := norm(a); n > 0 {
		return scale(a, 1/n)
	}
	return [3]float64{}
}
