// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"

	"boardhand/internal/frame"
)

// lens is the true camera: a point (x, y, 1) in front of it is seen at
// u = f·x·d + cx, v = f·y·d + cy with d = 1 + k1 r² + k2 r⁴, r² = x² + y²
// (Brown 1971), pixels, centre of the first pixel (0, 0).
type lens struct {
	w, h   int
	f      float64 // pixels
	cx, cy float64
	k1, k2 float64
}

// distort maps an ideal direction (x/z, y/z) to pixels.
func (l lens) distort(x, y float64) (u, v float64) {
	r2 := x*x + y*y
	d := 1 + r2*(l.k1+r2*l.k2)
	return l.f*x*d + l.cx, l.f*y*d + l.cy
}

// undistort maps pixels to the ideal direction by Newton steps on the radius.
// Valid where slope(r) > 0, which drawing a lens makes sure of.
func (l lens) undistort(u, v float64) (x, y float64) {
	xd, yd := (u-l.cx)/l.f, (v-l.cy)/l.f
	rd := math.Hypot(xd, yd)
	if rd == 0 {
		return 0, 0
	}
	r := rd
	for range 12 {
		r2 := r * r
		r -= (r*(1+r2*(l.k1+r2*l.k2)) - rd) / l.slope(r)
	}
	return xd * r / rd, yd * r / rd
}

// slope is d(distorted radius)/d(ideal radius).
func (l lens) slope(r float64) float64 {
	r2 := r * r
	return 1 + r2*(3*l.k1+5*r2*l.k2)
}

// leastSlope is how much of the scale a drawn lens must keep in its corner;
// below 0.42 no maker would call the picture usable.
const leastSlope = 0.42

// usable says whether the lens maps every pixel one to one.
func (l lens) usable() bool {
	rd := math.Hypot(float64(l.w)/2+8, float64(l.h)/2+8) / l.f
	for r := 0.0; r < 2.5; r += 0.01 {
		if l.slope(r) < leastSlope {
			return false
		}
		r2 := r * r
		if r*(1+r2*(l.k1+r2*l.k2)) >= rd {
			return true
		}
	}
	return false
}

// view is a camera in its place: cameraFromBoard in millimetres.
type view struct {
	lens
	pose frame.Pose[frame.Camera, frame.Board]
}

// project maps a board point, millimetres, to pixels.
func (v view) project(x, y, z float64) (float64, float64) {
	p := v.pose.Apply(frame.Point[frame.Board]{X: x, Y: y, Z: z})
	return v.distort(p.X/p.Z, p.Y/p.Z)
}

// eye is the centre of projection in the board frame, millimetres.
func (v view) eye() frame.Point[frame.Board] { return v.pose.Inverse().T }

// sheet is the ideal, undistorted picture that povray draws: focal length in
// its pixels, principal point in its centre.
type sheet struct {
	w, h int
	f    float64
}

// sheetFor returns the least sheet that covers the whole picture, at the
// given scale to the picture's own pixels in its centre.
func sheetFor(l lens, scale float64) sheet {
	var mx, my float64
	for i := range 65 {
		s := float64(i) / 64
		for _, p := range [4][2]float64{{s, 0}, {s, 1}, {0, s}, {1, s}} {
			x, y := l.undistort(p[0]*float64(l.w)-0.5, p[1]*float64(l.h)-0.5)
			mx, my = math.Max(mx, math.Abs(x)), math.Max(my, math.Abs(y))
		}
	}
	f := l.f * scale
	const rim = 4 // pixels for the resampling kernel
	return sheet{w: 2 * (int(mx*f) + rim), h: 2 * (int(my*f) + rim), f: f}
}

// at maps an ideal direction to the sheet's pixels.
func (s sheet) at(x, y float64) (u, v float64) {
	return x*s.f + float64(s.w-1)/2, y*s.f + float64(s.h-1)/2
}
