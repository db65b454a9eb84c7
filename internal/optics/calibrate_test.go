// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"sort"
	"testing"
)

type sampleView struct {
	name    string
	corners []Corner
}

// sampleCorners reads the corners of OpenCV's sample pictures left01…left14.
func sampleCorners(t *testing.T) []sampleView {
	t.Helper()
	text, err := os.ReadFile("testdata/opencv-left-corners.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Columns int
		Images  map[string][][2]float64
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	var views []sampleView
	for name, list := range file.Images {
		v := sampleView{name: name}
		for i, p := range list {
			at := brd(float64(i%file.Columns), float64(i/file.Columns), 0)
			v.corners = append(v.corners, Corner{Board: at, Seen: pix(p[0], p[1])})
		}
		views = append(views, v)
	}
	sort.Slice(views, func(i, j int) bool { return views[i].name < views[j].name })
	return views
}

func cornersOf(views []sampleView, without string) [][]Corner {
	var out [][]Corner
	for _, v := range views {
		if v.name != without {
			out = append(out, v.corners)
		}
	}
	return out
}

// OpenCV 4.6.0's calibrateCamera on the same corners, model by model; a plain
// least-squares fit in SciPy from the rounded corners agrees with it to the
// tolerances below.
func TestCalibratePublished(t *testing.T) {
	views, image := sampleCorners(t), [2]int{640, 480}
	tied := Free(image, 3, true, true)
	for _, c := range []struct {
		name    string
		without string
		prior   Prior
		rms     float64
		want    Lens
	}{
		{"k1 k2 p1 p2 k3", "", Free(image, 3, true, false), 0.408774, Lens{536.0742, 536.0171, 342.3700, 235.5375, -0.265091, -0.046727, 0.001833, -0.000315, 0.252264}},
		{"k1 k2", "", Free(image, 2, false, false), 0.418275, Lens{536.4571, 536.7453, 342.3847, 234.3283, -0.280941, 0.078383, 0, 0, 0}},
		{"k1 k2 p1 p2", "", Free(image, 2, true, false), 0.409026, Lens{536.4626, 536.4150, 342.3686, 235.5490, -0.278644, 0.067166, 0.001824, -0.000343, 0}},
		{"k1", "", Free(image, 1, false, false), 0.421645, Lens{535.7084, 535.8819, 343.2300, 234.2797, -0.259976, 0, 0, 0, 0}},
		{"none", "", Free(image, 0, false, false), 1.555419, Lens{557.4552, 561.3654, 360.1256, 235.4628, 0, 0, 0, 0, 0}},
		{"five, fx = fy", "", tied, 0.408788, Lens{536.1087, 536.1087, 342.3736, 235.5955, -0.265347, -0.045306, 0.001820, -0.000292, 0.250425}},
		{"five, without left02", "left02.jpg", Free(image, 3, true, false), 0.234116, Lens{534.1321, 534.1867, 342.8441, 233.7187, -0.275881, 0.004849, 0.001252, 0.000015, 0.180140}},
	} {
		got, err := Calibrate(cornersOf(views, c.without), c.prior)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if math.Abs(got.RMS-c.rms) > 2e-6 {
			t.Errorf("%s: RMS %.6f px, published %.6f", c.name, got.RMS, c.rms)
		}
		// From rounded corners SciPy's fit differs from OpenCV's by up to
		// 2e-4 px and 2.5e-5 in a coefficient; OpenCV stops at 1e-3 px or so.
		limits := Lens{2e-3, 2e-3, 2e-3, 2e-3, 2e-5, 2e-4, 5e-6, 5e-6, 4e-4}
		for i, p := range got.Lens.coefficients() {
			if w, tol := *c.want.coefficients()[i], *limits.coefficients()[i]; math.Abs(*p-w) > tol {
				t.Errorf("%s: coefficient %d is %.6f, published %.6f", c.name, i, *p, w)
			}
		}
	}
}

// Standard deviations and the RMS of each picture of the five-coefficient fit.
// OpenCV divides the squares by points − parameters (702 − 87); each point has
// two coordinates, so the variance of a coordinate is over 1404 − 87.
func TestCalibrateErrorsPublished(t *testing.T) {
	views := sampleCorners(t)
	got, err := Calibrate(cornersOf(views, ""), Free([2]int{640, 480}, 3, true, false))
	if err != nil {
		t.Fatal(err)
	}
	want := Lens{1.3582851, 1.4226264, 1.4220087, 1.5670033, 0.01703699, 0.13295680, 0.00034440, 0.00043602, 0.28910162}
	for i, p := range got.Sigma.coefficients() {
		w := *want.coefficients()[i] * math.Sqrt((702.0-87)/(1404-87))
		if math.Abs(*p/w-1) > 2e-3 {
			t.Errorf("standard deviation %d is %.6f, published %.6f", i, *p, w)
		}
	}
	for i, w := range []float64{0.1934, 1.2201, 0.1753, 0.1940, 0.1594, 0.1826, 0.2376, 0.2434, 0.3007, 0.1679, 0.2017, 0.4620, 0.1750} {
		if math.Abs(got.PerView[i]-w) > 1e-4 {
			t.Errorf("%s: RMS %.4f px, published %.4f", views[i].name, got.PerView[i], w)
		}
	}
}

// Corners made by a known lens without noise give the lens back exactly.
func TestCalibrateRecoversItsOwn(t *testing.T) {
	const seed = 14
	rnd := rand.New(rand.NewPCG(seed, 0))
	truth := Lens{910, 905, 650, 350, -0.25, 0.06, 0.001, -0.0008, 0}
	var seen [][]Corner
	for range 6 {
		v, _ := Nominal([2]int{1280, 720}, 1, 0.5, "bottom")
		v.Lens = truth
		v.CameraFromBoard = turned(v.CameraFromBoard, []float64{rnd.Float64() - 0.5, rnd.Float64() - 0.5, rnd.Float64(), 0, 0, 0})
		seen = append(seen, lookAt(t, v, rnd, 0))
	}
	got, err := Calibrate(seen, Free([2]int{1280, 720}, 2, true, false))
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range got.Lens.coefficients() {
		if w := *truth.coefficients()[i]; math.Abs(*p-w) > 1e-5*math.Max(1, math.Abs(w)) {
			t.Errorf("seed %d: coefficient %d is %v, true %v", seed, i, *p, w)
		}
	}
}

// lookAt sees a 7 × 7 lattice of 32 mm with noise of sigma px.
func lookAt(t *testing.T, v View, rnd *rand.Rand, sigma float64) []Corner {
	t.Helper()
	var out []Corner
	for i := -3.0; i <= 3; i++ {
		for j := -3.0; j <= 3; j++ {
			p := brd(i*0.032, j*0.032, 0)
			px, ok := v.Project(p)
			if !ok {
				t.Fatalf("%v is out of sight", p)
			}
			px = px.Add(pix(sigma*rnd.NormFloat64(), sigma*rnd.NormFloat64()))
			out = append(out, Corner{Board: p, Seen: px, Sigma: sigma})
		}
	}
	return out
}

func TestCalibrateRefusesFlatViews(t *testing.T) {
	v, _ := Nominal([2]int{1280, 720}, 1, 0.5, "bottom")
	seen := lookAt(t, v, rand.New(rand.NewPCG(1, 1)), 0)
	if c, err := Calibrate([][]Corner{seen, seen, seen}, Free([2]int{1280, 720}, 2, false, true)); err == nil {
		t.Errorf("three times the same view straight down gives %+v ± %+v", c.Lens, c.Sigma)
	}
	if _, err := Calibrate([][]Corner{seen[:3]}, Free([2]int{1280, 720}, 1, false, true)); err == nil {
		t.Error("accepts three corners")
	}
}

// A fit to one picture with the calibration as its prior is a fit to all pictures together: of
// independent measurements of normal errors the first one's covariance holds all that it tells
// (recursive least squares, C. F. Gauss 1823). Without the correlations it takes the focal length for
// surer than all pictures together tell it.
func TestPriorWithCorrelationsIsTheJointFit(t *testing.T) {
	const seed, noise = 5, 0.1
	rnd := rand.New(rand.NewPCG(seed, 0))
	truth := Lens{1060, 1062, 642, 357, -0.03, 0.01, 0.0004, -0.0003, 0}
	var seen [][]Corner
	flat, _ := Nominal([2]int{1280, 720}, 1, 0.6, "bottom")
	flat.Lens = truth
	for range 8 {
		v := flat
		v.CameraFromBoard = turned(v.CameraFromBoard, []float64{1.2*rnd.Float64() - 0.6, 1.2*rnd.Float64() - 0.6, rnd.Float64(), 0, 0, -0.2})
		seen = append(seen, lookAt(t, v, rnd, noise))
	}
	of := lookAt(t, flat, rnd, noise)
	free := Free([2]int{1280, 720}, 2, true, false)
	c, err := Calibrate(seen, free)
	if err != nil {
		t.Fatal(err)
	}
	joint, err := Calibrate(append(seen, of), free)
	if err != nil {
		t.Fatal(err)
	}
	together := joint.Views[len(seen)].Camera()
	for _, isWhole := range []bool{true, false} {
		p := Prior{Lens: c.Lens, Sigma: c.Sigma}
		if isWhole {
			p.Correlation = c.Correlation
		}
		got, err := Fit(View{c.Lens, flat.CameraFromBoard}, of, p)
		if err != nil {
			t.Fatal(err)
		}
		at, s := got.View.Camera(), got.PlaceSigma()
		off := math.Sqrt((math.Pow((at.X-together.X)/s.X, 2) + math.Pow((at.Y-together.Y)/s.Y, 2) + math.Pow((at.Z-together.Z)/s.Z, 2)) / 3)
		focal := got.Sigma.Fx / joint.Sigma.Fx
		t.Logf("correlations %v: off the joint fit by %.3f standard deviations; focal length %.2f ± %.3f px, jointly %.2f ± %.3f", isWhole, off, got.View.Lens.Fx, got.Sigma.Fx, joint.Lens.Fx, joint.Sigma.Fx)
		if isWhole && (off > 0.1 || math.Abs(focal-1) > 0.1) {
			t.Errorf("seed %d: with the correlations it is off the joint fit by %.2f standard deviations, that of the focal length is %.2f of the joint one's", seed, off, focal)
		}
		if !isWhole && focal > 0.9 {
			t.Errorf("seed %d: without the correlations the focal length is not overrated: %.2f", seed, focal)
		}
	}
	for name, wrong := range map[string][]float64{"too few": {0.5}, "none that can be": {1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1}} {
		if _, err := Fit(View{c.Lens, flat.CameraFromBoard}, of, Prior{Lens: c.Lens, Sigma: c.Sigma, Correlation: wrong}); err == nil {
			t.Errorf("accepts correlations: %s", name)
		}
	}
}
