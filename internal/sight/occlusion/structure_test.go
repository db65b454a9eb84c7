// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/sight/pixels"
)

// cloth is a rectified image that shows cloth: random structure a pixel or two wide, with noise
// of its own.
func cloth(seed uint64, noise float64) *pixels.Image {
	const w, h = 160, 120
	d := rand.New(rand.NewPCG(seed, 1))
	threads := make([]float64, w*h)
	for i := range threads {
		threads[i] = 0.25 * d.NormFloat64()
	}
	p := &pixels.Image{W: w, H: h, Reduce: 1}
	n := w * h
	p.L, p.A, p.B, p.Noise = make([]float32, n), make([]float32, n), make([]float32, n), make([]float32, n)
	fresh := rand.New(rand.NewPCG(seed, uint64(1e6*noise)))
	for y := range h {
		for x := range w {
			i := y*w + x
			sum := 0.0
			for v := max(0, y-1); v <= min(h-1, y+1); v++ {
				for u := max(0, x-1); u <= min(w-1, x+1); u++ {
					sum += threads[v*w+u] / 3
				}
			}
			p.L[i] = float32(4.5 + sum + noise*fresh.NormFloat64())
			p.Noise[i] = 0.015
		}
	}
	return p
}

// counts of the cells by what is seen of them, inside a rectangle of cells
// and outside it, its rim of two cells left out.
func counts(c *Comparison, x0, y0, x1, y1 int) (in, out map[Visibility]int) {
	in, out = map[Visibility]int{}, map[Visibility]int{}
	for k := range c.Depth {
		s := c.visibility(k)
		x, y := k%c.Cols, k/c.Cols
		switch {
		case x >= x0+2 && x < x1-2 && y >= y0+2 && y < y1-2:
			in[s]++
		case x < x0-2 || x >= x1+2 || y < y0-2 || y >= y1+2:
			out[s]++
		}
	}
	return in, out
}

// TestLightHidesNothing: another exposure, a gradient, a soft shadow and the
// camera's noise leave the structure plainly seen.
func TestLightHidesNothing(t *testing.T) {
	then, now := cloth(1, 0.010), cloth(1, 0.013)
	for y := range now.H {
		for x := range now.W {
			i := y*now.W + x
			edge := 1 / (1 + math.Exp(-float64(x-y-20)/4)) // a shadow's edge 15 pixels wide
			now.L[i] += float32(0.3 + 0.002*float64(x) - 0.7*edge)
		}
	}
	in, out := counts(Compare(now, then), 0, 0, 0, 0)
	if n := out[Hidden] + in[Hidden]; n > 0 {
		t.Errorf("%d cells are called hidden in another light", n)
	}
	if all := out[Visible] + out[Untold]; out[Visible] < all*9/10 {
		t.Errorf("only %d of %d cells are plainly seen", out[Visible], all)
	}
}

// TestACoverHides: where another structure of the same colour and brightness
// lies over a part, that part is hidden and no other.
func TestACoverHides(t *testing.T) {
	then, now, over := cloth(2, 0.010), cloth(2, 0.013), cloth(3, 0.010)
	const x0, y0, x1, y1 = 12, 8, 28, 22 // cells
	for y := y0 * CellSide; y < y1*CellSide; y++ {
		for x := x0 * CellSide; x < x1*CellSide; x++ {
			now.L[y*now.W+x] = over.L[y*now.W+x]
		}
	}
	in, out := counts(Compare(now, then), x0, y0, x1, y1)
	if all := in[Hidden] + in[Visible] + in[Untold]; in[Hidden] < all*9/10 || in[Visible] > 0 {
		t.Errorf("under the cover: %v", in)
	}
	if out[Hidden] > 0 {
		t.Errorf("beside the cover: %v", out)
	}
}

// TestDimLightIsNoCover: where the light goes and takes a relief with it, as
// on rough cloth, structure is lost but none is new: nothing covers it.
func TestDimLightIsNoCover(t *testing.T) {
	then, now := cloth(4, 0.010), cloth(4, 0.010)
	for i := range now.L {
		now.L[i] = 4.0 + 0.2*(now.L[i]-4.5)
	}
	in, out := counts(Compare(now, then), 0, 0, 0, 0)
	if n := in[Hidden] + out[Hidden]; n > 0 {
		t.Errorf("%d cells are called hidden in a dim light", n)
	}
}

// TestBareAgain: bare ground over which something lay in the last picture but
// not in the one before is not unlike that one; something new on it is.
func TestBareAgain(t *testing.T) {
	bare := func(seed uint64) *pixels.Image {
		d, p := rand.New(rand.NewPCG(seed, 9)), cloth(5, 0.010)
		for i := range p.L {
			p.L[i] = float32(4.5 + 0.010*d.NormFloat64())
		}
		return p
	}
	now, last, before := bare(6), cloth(7, 0.010), bare(8)
	if in, _ := counts(Compare(now, last), 0, 0, now.W/CellSide, now.H/CellSide); in[Visible] > 0 {
		t.Fatalf("bare ground looks like cloth: %v", in)
	}
	unlike := func(now *pixels.Image) (n, of int) {
		c := Compare(now, before)
		for k := range c.Depth {
			if c.isUnlike(k) {
				n++
			}
		}
		return n, len(c.Depth)
	}
	if n, of := unlike(now); n > of/50 {
		t.Errorf("%d of %d cells of bare ground are unlike bare ground", n, of)
	}
	if n, of := unlike(last); n < of*9/10 {
		t.Errorf("only %d of %d cells of cloth are unlike bare ground", n, of)
	}
}
