// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
)

// Published values: Abramowitz and Stegun, Handbook of Mathematical Functions, table 22.9 and 22.3.8.
func TestLegendre(t *testing.T) {
	for _, c := range []struct {
		n       int
		x, want float64
	}{{0, 0.3, 1}, {1, 0.3, 0.3}, {2, 0.5, -0.125}, {3, 0.5, -0.4375}, {4, 0.5, -0.2890625}, {5, 0.5, 0.08984375}, {5, 1, 1}, {5, -1, -1}} {
		if got := legendre(c.n, c.x); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("P%d(%g) = %g, published %g", c.n, c.x, got, c.want)
		}
	}
}

// A camera over a warped board is found where it is, to what the corners tell, and by a warp as
// large as a mill leaves it is found off when the board is taken for flat: the shapes of the
// third order look like a tilt. The stated deviation is that of many drawn cameras.
func TestPlaceOverAWarpedBoard(t *testing.T) {
	const half, warp, noise, draws = 0.16, 0.6e-3, 0.05, 60
	chance := rand.New(rand.NewPCG(7, 1))
	var flat, shaped, stated float64
	for range draws {
		v := hung(t, chance)
		seen := onWarped(v, half, warp, noise, chance)
		for _, isFlat := range []bool{true, false} {
			p := Prior{Lens: v.Lens, Square: true}
			if !isFlat {
				p.Relief = Warped(half, warp)
			}
			f, err := Fit(v, seen, p)
			if err != nil {
				t.Fatal(err)
			}
			d := f.View.Camera().Sub(v.Camera())
			if isFlat {
				flat += (d.X*d.X + d.Y*d.Y) / (2 * draws)
				continue
			}
			shaped += (d.X*d.X + d.Y*d.Y) / (2 * draws)
			s := f.PlaceSigma()
			stated += (s.X*s.X + s.Y*s.Y) / (2 * draws)
		}
	}
	t.Logf("sideways: taken for flat %.3f mm off, with its shape %.3f mm, stated %.3f mm", 1e3*math.Sqrt(flat), 1e3*math.Sqrt(shaped), 1e3*math.Sqrt(stated))
	if math.Sqrt(shaped) > 0.15e-3 || flat < 2*shaped {
		t.Errorf("the shape does not help")
	}
	if ratio := shaped / stated; ratio < 0.6 || ratio > 1.6 { // of 120 squares: three of their standard deviations
		t.Errorf("the mean square of the errors is %.2f of the stated one", ratio)
	}
}

// hung is a camera about 0.6 m over the board, not plumb.
func hung(t *testing.T, chance *rand.Rand) View {
	t.Helper()
	v, err := Nominal([2]int{1280, 720}, 62*math.Pi/180, 0.6, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	w := make([]float64, 6)
	for k := range w {
		w[k] = 0.01 * chance.NormFloat64()
	}
	v.CameraFromBoard = turned(v.CameraFromBoard, w)
	return v
}

// onWarped are the 81 corners of a board warped as drawn.
func onWarped(v View, half, warp, noise float64, chance *rand.Rand) (seen []Corner) {
	all := Warped(half, warp)
	size := make([]float64, len(all))
	for k, r := range all {
		size[k] = r.Sigma * chance.NormFloat64()
	}
	for k := range 81 {
		at := frame.Spot[frame.Board]{X: half * float64(k%9-4) / 4, Y: half * float64(k/9-4) / 4}
		z := 0.0
		for i, r := range all {
			z += size[i] * r.Of(at)
		}
		px, _ := v.Project(at.At(z))
		px.X, px.Y = px.X+noise*chance.NormFloat64(), px.Y+noise*chance.NormFloat64()
		seen = append(seen, Corner{Board: at.At(0), Seen: px, Sigma: noise})
	}
	return seen
}

// Drawn boards have about the warp from peak to valley that they are said to have.
func TestWarpedHasItsWarp(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 1))
	const draws = 400
	mean := 0.0
	for range draws {
		lo, hi := math.Inf(1), math.Inf(-1)
		var size []float64
		all := Warped(1, 1)
		for _, r := range all {
			size = append(size, r.Sigma*chance.NormFloat64())
		}
		for k := range 81 {
			z := 0.0
			for i, r := range all {
				z += size[i] * r.Of(frame.Spot[frame.Board]{X: float64(k%9-4) / 4, Y: float64(k/9-4) / 4})
			}
			lo, hi = min(lo, z), max(hi, z)
		}
		mean += (hi - lo) / draws
	}
	t.Logf("%.2f of the warp on average", mean)
	if mean < 0.7 || mean > 1.6 {
		t.Errorf("boards have %.2f of the warp that is said", mean)
	}
}
