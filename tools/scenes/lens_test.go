// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"testing"
)

// TestLensThereAndBack sends the picture's rim through the lens and back.
func TestLensThereAndBack(t *testing.T) {
	for i := range 40 {
		s, err := newSession(diceFor(fmt.Sprintf("lens%02d", i)), "lens")
		if err != nil {
			t.Fatal(err)
		}
		l := s.view.lens
		for _, p := range [][2]float64{{0, 0}, {float64(l.w - 1), 0}, {0, float64(l.h - 1)}, {l.cx, 3}, {l.cx, l.cy}, {7, l.cy}} {
			x, y := l.undistort(p[0], p[1])
			if u, v := l.distort(x, y); math.Hypot(u-p[0], v-p[1]) > 1e-6 {
				t.Errorf("k1 %.3f: %v came back as %.7f, %.7f", l.k1, p, u, v)
			}
			a, b := sheetFor(l, supersample).at(x, y)
			if sh := sheetFor(l, supersample); a < 2 || b < 2 || a > float64(sh.w-3) || b > float64(sh.h-3) {
				t.Errorf("%v falls on the sheet's rim: %.1f, %.1f of %d × %d", p, a, b, sh.w, sh.h)
			}
		}
	}
}

// TestWhiteSitsWhereTheRigSays looks where rank 1 appears in the picture.
func TestWhiteSitsWhereTheRigSays(t *testing.T) {
	want := map[string][2]float64{"bottom": {0, 1}, "top": {0, -1}, "left": {-1, 0}, "right": {1, 0}}
	for side, dir := range want {
		v := view{lens{w: 1280, h: 720, f: 1000, cx: 640, cy: 360}, drawPose(diceFor(side), side, 600)}
		a, b := v.project(0, -100, 0)
		c, d := v.project(0, 100, 0)
		n := math.Hypot(a-c, b-d)
		if cos := ((a-c)*dir[0] + (b-d)*dir[1]) / n; cos < 0.98 {
			t.Errorf("%s: rank 1 lies towards %.2f, %.2f", side, (a-c)/n, (b-d)/n)
		}
		// Seen from above, a to h is a quarter turn clockwise-free from 1 to 8.
		e, f := v.project(100, 0, 0)
		g, h := v.project(-100, 0, 0)
		if cross := (e-g)*(d-b) - (f-h)*(c-a); cross >= 0 {
			t.Errorf("%s: the board is mirrored", side)
		}
	}
}

// TestEyeIsWhereThePoseSays checks the height and that tilt stays in range.
func TestEyeIsWhereThePoseSays(t *testing.T) {
	for i := range 50 {
		p := drawPose(diceFor(fmt.Sprint("eye", i)), "left", 612)
		v := view{pose: p}
		if z := v.eye().Z; math.Abs(z-612) > 1e-9 {
			t.Errorf("the eye is %.6f mm high, want 612", z)
		}
		if tilt := math.Acos(-p.R[2][2]) * 180 / math.Pi; tilt > 4+1e-9 {
			t.Errorf("tilted by %.2f degrees", tilt)
		}
	}
}
