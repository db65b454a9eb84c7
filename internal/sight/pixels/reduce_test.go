// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"
)

// TestReducedByParts: a pixel shows the middle of its block, whatever
// part of a pixel the reduction is; a ramp of brightness and two of colour tell.
func TestReducedByParts(t *testing.T) {
	const w, h = 240, 90
	ramp := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	for y := range h {
		for x := range w {
			ramp.Y[y*w+x], ramp.Cb[y*w+x], ramp.Cr[y*w+x] = uint8(60+x/2), uint8(128+x/12), uint8(128+y/6)
		}
	}
	for _, reduce := range []float64{1, 1.25, 1.44, 2, 2.7, 3} {
		p := Reduce(ramp, reduce)
		if p.W != int(w/reduce) || p.H != int(h/reduce) {
			t.Errorf("reduced by %v the image has %d × %d pixels", reduce, p.W, p.H)
		}
		for y := range p.H {
			for x := range p.W {
				u, v := reduce*(float64(x)+0.5)-0.5, reduce*(float64(y)+0.5)-0.5 // the block's middle
				luma, cb, cr := 60+u/2, u/12, v/6
				r, g, b := luma+1.402*cr, luma-0.344136*cb-0.714136*cr, luma+1.772*cb // ITU-T T.871
				const steps = 1.6                                                     // levels: the ramps are cut to whole ones
				for _, c := range [][2]float64{{float64(p.A[y*p.W+x]), math.Log(r+Black) - math.Log(g+Black)}, {float64(p.B[y*p.W+x]), math.Log(b+Black) - math.Log(g+Black)}} {
					if d := math.Abs(c[0] - c[1]); d > 2*steps/(g+Black) {
						t.Fatalf("reduced by %v, pixel %d, %d: log colour ratio %v, the ramp says %v", reduce, x, y, c[0], c[1])
					}
				}
				want := (math.Log(r+Black) + math.Log(g+Black) + math.Log(b+Black)) / 3
				if got := float64(p.L[y*p.W+x]); math.Abs(got-want) > steps/(g+Black) {
					t.Fatalf("reduced by %v, pixel %d, %d: ln brightness %v, the ramp says %v", reduce, x, y, got, want)
				}
			}
		}
	}
}

// TestReducedAnyhow: no reduction and no size asks for a pixel that is not there.
func TestReducedAnyhow(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	sizes := [][2]int{{64, 64}, {129, 72}, {640, 48}, {127, 65}}
	for range 2000 {
		size := sizes[rng.IntN(len(sizes))]
		reduce := 1 + 3*rng.Float64()
		if rng.IntN(2) == 0 { // one that the size is a multiple of, but for rounding
			reduce = float64(size[1]) / float64(size[1]/4+rng.IntN(size[1]*3/4))
		}
		ratio := []image.YCbCrSubsampleRatio{image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio411}[rng.IntN(3)]
		img := image.NewYCbCr(image.Rect(0, 0, size[0], size[1]), ratio)
		for i := range img.Y {
			img.Y[i] = 100
		}
		for i := range img.Cb {
			img.Cb[i], img.Cr[i] = 128, 128
		}
		want := math.Log(100 + Black)
		for i, l := range Reduce(img, reduce).L {
			if math.Abs(float64(l)-want) > 1e-2 {
				t.Fatalf("%v pixels reduced by %v: pixel %d of an even picture is %v, want %v", size, reduce, i, l, want)
			}
		}
	}
}

// BenchmarkPlate reduces a picture as cameras send it.
func BenchmarkPlate(b *testing.B) {
	img := image.NewYCbCr(image.Rect(0, 0, 1280, 720), image.YCbCrSubsampleRatio420)
	for range b.N {
		Reduce(img, 1.7)
	}
}
