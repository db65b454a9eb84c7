// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// H 900, h 95, r 250 mm: shift 29.503 mm, so seen at 279.503; and the air
// photograph's d = r_top h/H gives the same.
func TestLean(t *testing.T) {
	d, err := Lean(0.095, 0.250, 0.900)
	if err != nil || math.Abs(d-0.029503) > 5e-7 {
		t.Errorf("lean %v, %v; want 29.503 mm", d, err)
	}
	if photo := (0.250 + d) * 0.095 / 0.900; math.Abs(photo-d) > 1e-15 {
		t.Errorf("the air photograph's formula gives %v, ours %v", photo, d)
	}
	for _, h := range []float64{0.9, 1, -0.01, math.NaN()} {
		if _, err := Lean(h, 0.25, 0.9); err == nil {
			t.Errorf("accepts an object %v m high under a camera at 0.9 m", h)
		}
	}
}

// Published photographs: with the published height, the base's place in the
// image and the camera's height, Lean gives the top's place in the image.
func TestLeanPublishedPhotographs(t *testing.T) {
	for _, c := range []struct {
		name                 string
		top, foot, H, height float64 // of the image: one unit; H and height: one unit
		tolerance            float64 // of the lean: what rounding the published height leaves open
	}{
		{"tower of 146 m, Hicks, Handbook of Civil Engineering Calculations, fig. 30", 76.61, 71.68, 2269.08, 146, 2e-3},
		{"tower, curioustab.com 69135: d 7.2, r 100", 100, 92.8, 1000, 72, 1e-12},
		{"tower, askfilo.com: d 2.54, r 63.5", 63.5, 60.96, 1250, 50, 1e-12},
		{"pole, wizedu.com 929164", 5.11, 4.93, 2850, 100.39, 1e-5},
	} {
		d, err := Lean(c.height, c.foot, c.H)
		if err != nil || math.Abs(d-(c.top-c.foot)) > c.tolerance {
			t.Errorf("%s: lean %v, %v; published %v", c.name, d, err, c.top-c.foot)
		}
	}
}

// Leaned agrees with projecting the top and seeing which board point it hides.
func TestLeanedIsWhatTheCameraSees(t *testing.T) {
	const seed = 13
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 500 {
		v := someView(rnd)
		foot, h := frame.Spot[frame.Board]{X: 0.2 * (rnd.Float64() - 0.5), Y: 0.2 * (rnd.Float64() - 0.5)}, 0.08*rnd.Float64()
		px, ok := v.Project(foot.At(h))
		if !ok {
			continue
		}
		hidden, err := v.OnPlane(px, 0)
		if err != nil {
			continue
		}
		got, err := v.Leaned(foot, h)
		if err != nil || got.Distance(hidden) > 1e-9 {
			t.Fatalf("seed %d: top hides %v, Leaned says %v, %v", seed, hidden, got, err)
		}
		eye := v.Camera()
		d, _ := Lean(h, foot.Distance(eye.Spot()), eye.Z)
		if math.Abs(got.Distance(foot)-d) > 1e-12 {
			t.Fatalf("seed %d: Leaned %v, Lean %v", seed, got.Distance(foot), d)
		}
	}
}

func TestCover(t *testing.T) {
	v, _ := Nominal([2]int{1280, 720}, 2*math.Atan(0.64), 0.5, "left") // f = 1000 px
	c, err := v.Cover(0.256, 0, [2]int{1280, 720})
	if err != nil {
		t.Fatal(err)
	}
	// 256 mm at 500 mm are 512 px: (720 − 512)/2 free above, (1280 − 512)/2 beside.
	want := [4]float64{384, 104, 384, 104}
	for i := range want {
		if math.Abs(c.Sides[i]-want[i]) > 1e-9 {
			t.Errorf("side %d margin %v, want %v", i, c.Sides[i], want[i])
		}
	}
	if !c.Visible || math.Abs(c.Margin-104) > 1e-9 || math.Abs(c.Scale-2) > 1e-6 || math.Abs(c.Least-2) > 1e-6 {
		t.Errorf("cover %+v; want visible, margin 104, 2 px per mm", c)
	}
	if c, _ = v.Cover(0.4, 0, [2]int{1280, 720}); c.Visible || c.Margin >= 0 {
		t.Errorf("a 400 mm board does not fit, but: %+v", c)
	}
	if c, _ = v.Cover(0.256, 0.1, [2]int{1280, 720}); math.Abs(c.Scale-2.5) > 1e-6 {
		t.Errorf("100 mm nearer the scale is %v, want 2.5", c.Scale)
	}
}

// A second route: the rays through the rim of the lens meet where 1/b = 1/f − 1/at, and
// cross the sensor, which stands where those of the other distance meet, this far apart.
// And a known relation: set to the hyperfocal distance f²/(N·c) + f, a lens is sharp to
// within c from half of it to infinity (S. F. Ray, Applied Photographic Optics; from memory).
func TestBlur(t *testing.T) {
	for _, w := range [][4]float64{{3.04, 2, 1000, 335}, {4.74, 1.8, 600, 545}, {3.6, 2.4, 250, 1000}} {
		f, n, focus, at := w[0]*1e-3, w[1], w[2]*1e-3, w[3]*1e-3
		meets := func(d float64) float64 { return 1 / (1/f - 1/d) }
		want := f / n * math.Abs(meets(at)-meets(focus)) / meets(at)
		got, err := Blur(f, n, focus, at)
		if err != nil || math.Abs(got-want) > 1e-9*want {
			t.Errorf("%v: %g m, want %g m; %v", w, got, want, err)
		}
	}
	const f, n, c = 4e-3, 2.0, 5e-6
	hyper := f*f/(n*c) + f
	for _, at := range []float64{hyper / 2, 1e9} {
		if got, err := Blur(f, n, hyper, at); err != nil || math.Abs(got-c) > 1e-3*c {
			t.Errorf("at %g m: %g m, want %g m; %v", at, got, c, err)
		}
	}
	if _, err := Blur(f, n, 0, 1); err == nil {
		t.Error("a lens set to no distance must be refused")
	}
}
