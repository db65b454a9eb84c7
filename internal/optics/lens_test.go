// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// sample is the lens of OpenCV's sample file left_intrinsics.yml.
var sample = Lens{535.91573396163199, 535.91573396163199, 342.28315473308373, 235.57082909788173,
	-0.26637260909660682, -0.038588898922304653, 0.0017831947042852964, -0.00028122100441115472, 0.23839153080878486}

func cam(x, y, z float64) frame.Point[frame.Camera] {
	return frame.Point[frame.Camera]{X: x, Y: y, Z: z}
}

func brd(x, y, z float64) frame.Point[frame.Board] { return frame.Point[frame.Board]{X: x, Y: y, Z: z} }

func pix(u, v float64) frame.Spot[frame.Image] { return frame.Spot[frame.Image]{X: u, Y: v} }

// Values of OpenCV's projectPoints (calib3d, 4.6.0) for that lens.
func TestProjectPublished(t *testing.T) {
	const sixDecimals = 1e-6 // the table's last digit, and half of it for our own rounding
	for _, c := range []struct {
		p  frame.Point[frame.Camera]
		px frame.Spot[frame.Image]
	}{
		{cam(0, 0, 1), pix(342.283155, 235.570829)},
		{cam(0.1, 0.05, 1), pix(395.700647, 262.292463)},
		{cam(-0.3, 0.2, 1), pix(186.935059, 339.247398)},
		{cam(0.5, -0.4, 1), pix(583.121607, 43.242448)},
		{cam(-0.6, -0.4, 1), pix(58.121491, 46.678900)},
		{cam(0.02, 0.03, 0.4), pix(369.026072, 275.694807)},
	} {
		px, ok := sample.Project(c.p)
		if !ok || math.Abs(px.X-c.px.X) > sixDecimals || math.Abs(px.Y-c.px.Y) > sixDecimals {
			t.Errorf("%v projects to %.7f, %v; published %v", c.p, px, ok, c.px)
		}
	}
}

// Values of OpenCV's undistortPoints, run to convergence.
func TestRayPublished(t *testing.T) {
	const eightDecimals = 1e-8
	for _, c := range []struct {
		px   frame.Spot[frame.Image]
		x, y float64
	}{
		{pix(0, 0), -0.72537243, -0.50097110},
		{pix(639, 0), 0.63384215, -0.50439435},
		{pix(639, 479), 0.63124778, 0.51635474},
		{pix(0, 479), -0.72186695, 0.51198431},
		{pix(320, 240), -0.04159682, 0.00826499},
		{pix(100, 400), -0.49557888, 0.33570664},
	} {
		x, y, err := sample.Ray(c.px)
		if err != nil || math.Abs(x-c.x) > eightDecimals || math.Abs(y-c.y) > eightDecimals {
			t.Errorf("%v undistorts to %.9f %.9f, %v; published %v %v", c.px, x, y, err, c.x, c.y)
		}
	}
}

// Ray and Project undo each other for lenses of every kind inside the fold.
func TestRayUndoesProject(t *testing.T) {
	const seed = 11
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 5000 {
		l := Lens{Fx: 400 + 800*rnd.Float64(), Cx: 640, Cy: 360, K1: 0.6*rnd.Float64() - 0.4,
			K2: 0.3 * (rnd.Float64() - 0.5), P1: 0.004 * (rnd.Float64() - 0.5), P2: 0.004 * (rnd.Float64() - 0.5)}
		l.Fy = l.Fx * (0.95 + 0.1*rnd.Float64())
		reach := 0.9 * math.Min(l.Fold(), 1) * rnd.Float64()
		sin, cos := math.Sincos(2 * pi * rnd.Float64())
		x, y := reach*cos, reach*sin
		px, ok := l.Project(cam(x, y, 1))
		if !ok {
			t.Fatalf("seed %d: %+v: radius %v within the fold %v is not projected", seed, l, reach, l.Fold())
		}
		bx, by, err := l.Ray(px)
		if err != nil || math.Hypot(bx-x, by-y) > 1e-9 {
			t.Fatalf("seed %d: %+v: (%v, %v) came back as (%v, %v), %v", seed, l, x, y, bx, by, err)
		}
	}
}

// With k1 alone the fold is at r = √(−1/(3 k1)), where the distorted radius is
// two thirds of it: beyond, no ray has an answer and no point a pixel.
func TestFold(t *testing.T) {
	l := Lens{Fx: 700, Fy: 700, K1: -0.3}
	want := math.Sqrt(1 / 0.9)
	if got := l.Fold(); math.Abs(got-want) > 1e-12 {
		t.Fatalf("fold %v, want %v", got, want)
	}
	if _, ok := l.Project(cam(want*1.001, 0, 1)); ok {
		t.Error("projects a point beyond the fold")
	}
	if _, ok := l.Project(cam(0, want*0.999, 1)); !ok {
		t.Error("does not project a point inside the fold")
	}
	if _, _, err := l.Ray(pix(700*want*2/3*1.001, 0)); err == nil {
		t.Error("gives a ray for a pixel no ray can reach")
	}
	if x, _, err := l.Ray(pix(700*want*2/3*0.999, 0)); err != nil || x > want || x < 0.9*want {
		t.Errorf("ray just inside the fold: x = %v, %v", x, err)
	}
	if !math.IsInf((Lens{K1: 0.1}).Fold(), 1) || !math.IsInf((Lens{}).Fold(), 1) {
		t.Error("a lens that only stretches must not fold")
	}
}

// k2 may turn the slope positive again: points past the first fold stay out.
func TestFoldTwice(t *testing.T) {
	l := Lens{Fx: 500, Fy: 500, K1: -0.5, K2: 0.1}
	fold := l.Fold()
	if math.Abs(fold-1) > 1e-12 { // slope 1 − 1.5 s + 0.5 s² = 0 at s = 1 and 2
		t.Fatalf("fold %v, want 1", fold)
	}
	for r := fold * 1.01; r < 3; r *= 1.1 {
		if _, ok := l.Project(cam(r, 0, 1)); ok {
			t.Errorf("projects radius %v, fold is %v", r, fold)
		}
	}
}

func TestBehindTheCamera(t *testing.T) {
	if _, ok := sample.Project(cam(0.1, 0, -1)); ok {
		t.Error("projects a point behind the camera")
	}
	if _, ok := sample.Project(cam(0, 0, 0)); ok {
		t.Error("projects the centre of projection")
	}
}

func BenchmarkProject(b *testing.B) {
	p := cam(0.3, 0.2, 1)
	for b.Loop() {
		p.X = -p.X
		sample.Project(p)
	}
}

func BenchmarkRay(b *testing.B) {
	p := pix(100, 50)
	for b.Loop() {
		sample.Ray(p)
	}
}
