// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// Edges at every angle come out where they were drawn, across themselves.
func TestMeasureEdge(t *testing.T) {
	const seed, runs = 24, 400
	rnd := rand.New(rand.NewPCG(seed, 0))
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	sum := 0.0
	for range runs {
		w := wedge{at: frame.Spot[frame.Image]{X: between(28, 32), Y: between(28, 32)}, angle: between(0, 2*math.Pi),
			mean: 120, stepAcross: between(15, 80), blur: between(0.6, 1.8), noise: between(0, 4)}
		s, c := math.Sincos(w.angle)
		n := frame.Spot[frame.Image]{X: c, Y: s} // towards +i, where it is brighter
		off := between(-2, 2)
		e := expectedEdge{at: w.at.Add(n.Scale(off)), normal: n, long: 5, deep: 8, past: 8}
		p, ok := measureEdge(w.draw(60, rnd), e)
		if !ok {
			t.Fatalf("seed %d: no edge in %+v from %v px", seed, w, off)
		}
		d := p.at.Sub(w.at).Dot(n)
		if math.Abs(d) > 0.4 || math.Abs(p.contrast/w.stepAcross-1) > 0.25 {
			t.Errorf("seed %d: edge %.3f px off, contrast %v, in %+v", seed, d, p.contrast, w)
		}
		if slid := p.at.Sub(e.at); math.Abs(slid.X*n.Y-slid.Y*n.X) > 1e-9 {
			t.Errorf("the place slid along its edge by %v", slid)
		}
		sum += d * d
	}
	if rms := math.Sqrt(sum / runs); rms > 0.08 {
		t.Errorf("seed %d: RMS error %.3f px", seed, rms)
	}
}

// With little room beyond the edge, a line inlaid there is not taken for it.
func TestMeasureEdgeBeforeALine(t *testing.T) {
	w := wedge{at: frame.Spot[frame.Image]{X: 30.2, Y: 30}, mean: 140, stepAcross: -40, blur: 0.8}
	g := w.draw(60, rand.New(rand.NewPCG(1, 1)))
	for y := range 60 { // beyond a dark line of 2.5 px the margin is light again
		for x := 33; x < 60; x++ {
			g.Pix[y*g.Stride+x] = 170
		}
	}
	e := expectedEdge{at: frame.Spot[frame.Image]{X: 30.5, Y: 30}, normal: frame.Spot[frame.Image]{X: 1}, long: 5, deep: 8, past: pastOutline}
	p, ok := measureEdge(g, e)
	if !ok || math.Abs(p.at.X-w.at.X) > 0.25 {
		t.Errorf("edge before a line: %+v, %v; want x = %v", p, ok, w.at.X)
	}
}

func TestMeasureEdgeRefuses(t *testing.T) {
	rnd := rand.New(rand.NewPCG(25, 0))
	mid := frame.Spot[frame.Image]{X: 30, Y: 30}
	e := expectedEdge{at: mid, normal: frame.Spot[frame.Image]{X: 1}, long: 5, deep: 8, past: 8}
	for name, w := range map[string]wedge{
		"flat":      {mean: 120},
		"noise":     {mean: 120, noise: 15},
		"crossing":  {mean: 120, contrast: 60},
		"edge away": {mean: 120, stepAcross: 40, at: frame.Spot[frame.Image]{X: 7, Y: 0}},
	} {
		w.at, w.blur = w.at.Add(mid), 1
		if p, ok := measureEdge(w.draw(60, rnd), e); ok {
			t.Errorf("%s taken for an edge: %+v", name, p)
		}
	}
	e.at.X = 2
	if _, ok := measureEdge(wedge{mean: 120, blur: 1}.draw(60, rnd), e); ok {
		t.Error("measures out of the picture")
	}
}
