// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// wedge draws four fields that meet at a spot: the first edge at an angle, the
// second a quarter turn on plus skew, blurred by a Gaussian of sigma px (for
// skew 0 the blur of two crossing steps is exactly a product of error
// functions).
type wedge struct {
	at                      frame.Spot[frame.Image]
	angle, skew             float64
	mean, contrast          float64
	blur, noise             float64
	stepAcross, stepAlongTo float64 // further steps along one direction only
}

func (w wedge) draw(size int, rnd *rand.Rand) *image.Gray {
	g := image.NewGray(image.Rect(0, 0, size, size))
	si, ci := math.Sincos(w.angle)
	sj, cj := math.Sincos(w.angle + math.Pi/2 + w.skew)
	for y := range size {
		for x := range size {
			dx, dy := float64(x)-w.at.X, float64(y)-w.at.Y
			ti := (dx*sj - dy*cj) // from the line along j, towards +i
			tj := (-dx*si + dy*ci)
			ei, ej := math.Erf(ti/w.blur/math.Sqrt2), math.Erf(tj/w.blur/math.Sqrt2)
			v := w.mean + w.contrast*ei*ej + w.stepAcross*ei + w.stepAlongTo*ej + w.noise*rnd.NormFloat64()
			g.Pix[y*g.Stride+x] = uint8(math.Max(0, math.Min(255, v+0.5)))
		}
	}
	return g
}

// meeting is what is expected of it, off by some pixels.
func (w wedge) meeting(step float64, off frame.Spot[frame.Image]) expectedCorner {
	si, ci := math.Sincos(w.angle)
	sj, cj := math.Sincos(w.angle + math.Pi/2 + w.skew)
	return expectedCorner{at: w.at.Add(off), i: frame.Spot[frame.Image]{X: step * ci, Y: step * si}, j: frame.Spot[frame.Image]{X: step * cj, Y: step * sj}}
}

// Corners at every angle, blur and skew come out where they were drawn, and
// the stated error – which allows for JPEG, print and veneer – covers it.
func TestMeasureCorner(t *testing.T) {
	const seed, runs = 21, 400
	rnd := rand.New(rand.NewPCG(seed, 0))
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	sum, stated := 0.0, 0.0
	for k := range runs {
		w := wedge{at: frame.Spot[frame.Image]{X: between(28, 32), Y: between(28, 32)}, angle: between(0, 2*math.Pi),
			skew: between(-0.15, 0.15), mean: 120, contrast: between(15, 80), blur: between(0.6, 2), noise: between(0, 4)}
		if k%2 == 0 {
			w.contrast = -w.contrast
		}
		off := frame.Spot[frame.Image]{X: between(-2, 2), Y: between(-2, 2)}
		m := w.meeting(40, off)
		m.exact = k%3 == 0
		c, ok := measure(w.draw(60, rnd), m)
		if !ok {
			t.Fatalf("seed %d: no corner in %+v from %v", seed, w, off)
		}
		d := c.at.Distance(w.at)
		if d > 0.35 {
			t.Errorf("seed %d: corner %.3f px off in %+v", seed, d, w)
		}
		if math.Signbit(c.contrast) != math.Signbit(w.contrast) || math.Abs(c.contrast/w.contrast-1) > 0.25 {
			t.Errorf("seed %d: contrast %v, drawn %v", seed, c.contrast, w.contrast)
		}
		sum, stated = sum+d*d/2, stated+c.sigma*c.sigma
	}
	rms, sigma := math.Sqrt(sum/runs), math.Sqrt(stated/runs)
	if rms > 0.06 || sigma < rms || sigma > 0.15 {
		t.Errorf("seed %d: RMS error of a coordinate %.3f px, stated %.3f", seed, rms, sigma)
	}
}

// What is not a chequer corner is refused: flat, one edge, an L, a shadow's
// edge, noise, the picture's rim.
func TestMeasureRefusesOthers(t *testing.T) {
	const seed = 22
	rnd := rand.New(rand.NewPCG(seed, 0))
	mid := frame.Spot[frame.Image]{X: 30, Y: 30}
	for name, w := range map[string]wedge{
		"flat":       {mean: 120},
		"one edge":   {mean: 120, stepAcross: 50},
		"an L":       {mean: 120, contrast: 25, stepAcross: 25, stepAlongTo: 25},
		"a T":        {mean: 120, contrast: 25, stepAcross: 25},
		"only noise": {mean: 120, noise: 12},
		"faint":      {mean: 120, contrast: 1.5, noise: 3},
	} {
		w.at, w.blur = mid, 1
		for k := range 8 {
			w.angle = float64(k)
			if c, ok := measure(w.draw(60, rnd), w.meeting(40, frame.Spot[frame.Image]{X: 0.5, Y: -0.5})); ok {
				t.Errorf("seed %d: %s taken for a corner: %+v", seed, name, c)
			}
		}
	}
	w := wedge{at: frame.Spot[frame.Image]{X: 3, Y: 30}, mean: 120, contrast: 50, blur: 1}
	if _, ok := measure(w.draw(60, rnd), w.meeting(40, frame.Spot[frame.Image]{})); ok {
		t.Error("measures a corner whose window reaches out of the picture")
	}
	if _, ok := measure(w.draw(60, rnd), expectedCorner{at: mid, i: mid, j: mid}); ok {
		t.Error("measures with both directions the same")
	}
}

// A piece that stands in a field of 45 px and leans or was pushed towards the
// corner, its rim 12 px from it, does not shift it.
func TestMeasureBesideAMan(t *testing.T) {
	const seed = 23
	rnd := rand.New(rand.NewPCG(seed, 0))
	for k := range 40 {
		w := wedge{at: frame.Spot[frame.Image]{X: 30.3, Y: 29.6}, angle: float64(k), mean: 120, contrast: 40, blur: 1, noise: 2}
		g := w.draw(60, rnd)
		s, c := math.Sincos(float64(k) + 0.78)
		for y := range 60 {
			for x := range 60 {
				if math.Hypot(float64(x)-30-25*c, float64(y)-30-25*s) < 13 {
					g.Pix[y*g.Stride+x] = uint8(20 + 200*(k%2))
				}
			}
		}
		if c, ok := measure(g, w.meeting(45, frame.Spot[frame.Image]{X: 1, Y: 1})); ok && c.at.Distance(w.at) > 0.25 {
			t.Errorf("seed %d, piece %d: %.3f px off", seed, k, c.at.Distance(w.at))
		} else if !ok {
			t.Errorf("seed %d, piece %d: not measured", seed, k)
		}
	}
}

func BenchmarkMeasure(b *testing.B) {
	w := wedge{at: frame.Spot[frame.Image]{X: 30.3, Y: 29.6}, angle: 0.3, mean: 120, contrast: 40, blur: 1, noise: 2}
	g := w.draw(60, rand.New(rand.NewPCG(1, 1)))
	m := w.meeting(65, frame.Spot[frame.Image]{X: 0.6, Y: -0.4})
	m.exact = true
	for b.Loop() {
		measure(g, m)
	}
}
