// SPDX-License-Identifier: Apache-2.0

package quality

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

const square = 0.04

// chequer is a board seen from straight above, blurred by a Gaussian of sigma px: a
// product of two square waves, each convolved in closed form. light darkens it from
// the a file to the h file down to that share.
func chequer(t *testing.T, sigma, light, noise float64) (image.Image, Board) {
	t.Helper()
	v, err := optics.Nominal([2]int{800, 600}, 60*math.Pi/180, 0.6, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	blur := sigma / (k * 1e3) // m
	wave := func(x float64) float64 {
		s := 0.0
		for j := -4; j <= 4; j++ {
			s += math.Pow(-1, float64(j)) * math.Erf((x-float64(j)*square)/(blur*math.Sqrt2))
		}
		return s
	}
	rnd := rand.New(rand.NewPCG(4, 2))
	img := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for y := range 600 {
		for x := range 800 {
			at, err := v.OnPlane(frame.Spot[frame.Image]{X: float64(x), Y: float64(y)}, 0)
			if err != nil {
				t.Fatal(err)
			}
			g := (128 + 50*wave(at.X)*wave(at.Y)) * (1 - (1-light)*(at.X/(8*square)+0.5))
			g = min(max(g+noise*rnd.NormFloat64(), 0), 255)
			img.Set(x, y, color.Gray{byte(g + 0.5)})
		}
	}
	return img, Board{v, square}
}

// The 10–90 % width of an edge blurred by a Gaussian is 2 × 1.28155 σ (quantiles of the
// normal distribution); sampling between pixels adds 1/6 px² to σ².
func TestEdgeWidthOfAGaussian(t *testing.T) {
	for _, sigma := range []float64{0.8, 1.5, 3} {
		img, b := chequer(t, sigma, 1, 0)
		r := Measure([]image.Image{img}, b)
		want := 2 * 1.28155 * math.Sqrt(sigma*sigma+1.0/6)
		for _, name := range Places {
			if got := r.Edge[name]; math.Abs(got-want) > 0.06*want {
				t.Errorf("σ %g at %s: %.3f px, want %.3f", sigma, name, got, want)
			}
		}
		if blurred := strings.Contains(strings.Join(r.Advice(square*1e3), " "), "blurred"); blurred != (want > r.sharpEnough(square*1e3)) {
			t.Errorf("σ %g: %q", sigma, r.Advice(square*1e3))
		}
	}
}

// Light, contrast, noise and scale are those that the picture was drawn with.
func TestMeasuresKnownLight(t *testing.T) {
	img, b := chequer(t, 1, 0.3, 5)
	again, _ := chequer(t, 1, 0.3, 0)
	r := Measure([]image.Image{again, img}, b)
	for name, want := range map[string]float64{"a1": 178 * (1 - 0.7/4), "h8": 178 * (1 - 0.7*3/4), "middle": 178 * 0.65} {
		if got := r.Light[name]; math.Abs(got-want) > 0.1*want {
			t.Errorf("light at %s is %.1f, want %.1f", name, got, want)
		}
	}
	if math.Abs(r.Contrast-65) > 5 {
		t.Errorf("contrast %.1f, want 65", r.Contrast)
	}
	if want := 5 / math.Sqrt2; math.Abs(r.Noise-want) > 0.1*want {
		t.Errorf("noise %.2f, want %.2f", r.Noise, want)
	}
	if want := 800 / 2 / math.Tan(math.Pi/6) / 0.6 * square; math.Abs(r.PixelsPerSquare[0]-want) > 0.01*want {
		t.Errorf("%v pixels a square, want %.1f", r.PixelsPerSquare, want)
	}
	if r.TiltDeg > 0.01 || r.Bright > 0 || r.Dark > 0 {
		t.Errorf("tilt %.2f, clipped %.3f and %.3f", r.TiltDeg, r.Bright, r.Dark)
	}
}

// A board that is half drowned is told to be.
func TestClipped(t *testing.T) {
	img, b := chequer(t, 1, 1, 0)
	draw := img.(*image.RGBA)
	for y := range 600 {
		for x := range 400 {
			draw.Set(x, y, color.White)
		}
	}
	r := Measure([]image.Image{img}, b)
	if math.Abs(r.Bright-0.5) > 0.02 {
		t.Errorf("%.3f of the board is clipped, want half", r.Bright)
	}
	if a := strings.Join(r.Advice(40), " "); !strings.Contains(a, "50 % of the board is too bright") {
		t.Errorf("%q", a)
	}
}

// A good picture has no advice, a small one has.
func TestAdvice(t *testing.T) {
	img, b := chequer(t, 0.8, 0.9, 1)
	r := Measure([]image.Image{img, img}, b)
	if a := r.Advice(square * 1e3); len(a) > 0 {
		t.Errorf("a good picture: %q", a)
	}
	r.PixelsPerSquare = [2]float64{20, 22}
	r.TiltDeg, r.Light["a1"], r.Contrast, r.Noise = 12, 10, 9, 8
	if a := strings.Join(r.Advice(square*1e3), "\n"); strings.Count(a, "\n") != 5 {
		t.Errorf("what is wrong:\n%s", a)
	}
}
