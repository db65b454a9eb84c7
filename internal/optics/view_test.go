// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// View 1 of OpenCV's sample: rotation vector and translation (metres) of
// left_intrinsics.yml with squares of 25 mm; corners by projectPoints.
func TestViewPublished(t *testing.T) {
	r := frame.FromVector([3]float64{0.16866673, 0.27567195, 0.01346367})
	want := frame.Rotation{{0.96224278, 0.00981623, 0.27201559}, {0.03627647, 0.98580950, -0.16390131},
		{-0.26976445, 0.16758061, 0.94823198}}
	for i := range r {
		for j := range r[i] {
			if math.Abs(r[i][j]-want[i][j]) > 1e-8 {
				t.Errorf("rotation entry %d %d: %.9f, published %.8f", i, j, r[i][j], want[i][j])
			}
		}
	}
	v := View{sample, frame.Pose[frame.Camera, frame.Board]{R: r, T: cam(-0.07521791, -0.10895944, 0.39970207)}}
	for _, c := range []struct {
		col, row float64
		px       frame.Spot[frame.Image]
	}{
		{0, 0, pix(244.4655, 94.0025)}, {8, 0, pix(514.0536, 86.7166)}, {0, 5, pix(248.8006, 253.6257)},
		{8, 5, pix(510.3967, 266.2206)}, {4, 2, pix(372.2919, 157.3544)},
	} {
		px, ok := v.Project(brd(c.col*0.025, c.row*0.025, 0))
		if !ok || px.Distance(c.px) > 1e-4 {
			t.Errorf("corner %v %v at %.5f, published %v", c.col, c.row, px, c.px)
		}
	}
}

// Where a1, h1 and a8 must appear, in words: White below means rank 1 below
// and file a on the left, and the other sides are that picture turned.
func TestNominalSides(t *testing.T) {
	a1, h1, a8 := brd(-0.1, -0.1, 0), brd(0.1, -0.1, 0), brd(-0.1, 0.1, 0)
	for side, want := range map[string]string{
		"bottom": "left bottom, right bottom, left top",
		"left":   "left top, left bottom, right top",
		"top":    "right top, left top, right bottom",
		"right":  "right bottom, right top, left bottom",
	} {
		v, err := Nominal([2]int{1280, 720}, 1.1, 0.6, side)
		if err != nil {
			t.Fatal(err)
		}
		got := quarter(v, a1) + ", " + quarter(v, h1) + ", " + quarter(v, a8)
		if got != want {
			t.Errorf("white %s: a1, h1, a8 lie %s; want %s", side, got, want)
		}
		if eye := v.Camera(); eye.Sub(brd(0, 0, 0.6)).Norm() > 1e-12 || v.Tilt() > 1e-7 {
			t.Errorf("white %s: camera at %v, tilt %v", side, eye, v.Tilt())
		}
	}
}

func quarter(v View, p frame.Point[frame.Board]) string {
	px, _ := v.Project(p)
	x, y := "left", "top"
	if px.X > 639.5 {
		x = "right"
	}
	if px.Y > 359.5 {
		y = "bottom"
	}
	return x + " " + y
}

func TestNominalRefuses(t *testing.T) {
	for _, c := range []struct {
		image  [2]int
		hfov   float64
		height float64
		side   string
	}{{[2]int{1280, 720}, 1, 0.6, "south"}, {[2]int{0, 720}, 1, 0.6, "left"}, {[2]int{1280, 720}, 3.2, 0.6, "left"},
		{[2]int{1280, 720}, 1, 0, "left"}, {[2]int{1280, 720}, math.NaN(), 0.6, "left"}} {
		if _, err := Nominal(c.image, c.hfov, c.height, c.side); err == nil {
			t.Errorf("accepts %+v", c)
		}
	}
}

// someView is a plausible camera over a board: tilted up to 6 deg, turned
// anyhow, k1 down to −0.3.
func someView(rnd *rand.Rand) View {
	v, _ := Nominal([2]int{1280, 720}, 0.9+0.4*rnd.Float64(), 0.45+0.25*rnd.Float64(), "bottom")
	v.Lens.K1, v.Lens.K2 = -0.3*rnd.Float64(), 0.05*rnd.Float64()
	w := []float64{0.14 * (rnd.Float64() - 0.5), 0.14 * (rnd.Float64() - 0.5), 6 * (rnd.Float64() - 0.5),
		0.04 * (rnd.Float64() - 0.5), 0.04 * (rnd.Float64() - 0.5), 0}
	v.CameraFromBoard = turned(v.CameraFromBoard, w)
	return v
}

// The camera's centre is where its pose maps to the origin.
func TestCameraIsTheOrigin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(18, 0))
	for range 50 {
		v := someView(rnd)
		if p := v.CameraFromBoard.Apply(v.Camera()); p.Norm() > 1e-12 || v.Camera() == (frame.Point[frame.Board]{}) {
			t.Errorf("the centre maps to %v", p)
		}
	}
}

// OnPlane undoes Project at every height.
func TestOnPlaneUndoesProject(t *testing.T) {
	const seed = 12
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 2000 {
		v := someView(rnd)
		p := brd(0.25*(rnd.Float64()-0.5), 0.25*(rnd.Float64()-0.5), 0.08*rnd.Float64())
		px, ok := v.Project(p)
		if !ok {
			t.Fatalf("seed %d: %v not seen by %+v", seed, p, v)
		}
		q, err := v.OnPlane(px, p.Z)
		if err != nil || q.Distance(p.Spot()) > 1e-9 {
			t.Fatalf("seed %d: %v came back as %v, %v", seed, p, q, err)
		}
	}
}

func TestOnPlaneNeverMeets(t *testing.T) {
	v, _ := Nominal([2]int{1280, 720}, 1.1, 0.6, "bottom")
	if _, err := v.OnPlane(pix(640, 360), 0.7); err == nil {
		t.Error("a camera that looks down sees a plane above itself")
	}
}
