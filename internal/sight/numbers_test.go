package sight

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSmooth compares the running sums with the plain mean.
func TestSmooth(t *testing.T) {
	const w, h, r = 23, 17, 3
	rng := rand.New(rand.NewPCG(11, 5))
	src, dst := make([]float32, w*h), make([]float32, w*h)
	for i := range src {
		src[i] = rng.Float32()
	}
	b := box{2, 1, 20, 16}
	smooth(dst, src, w, b, r)
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			sum, n := 0.0, 0.0
			for v := max(b.y0, y-r); v <= min(b.y1-1, y+r); v++ {
				for u := max(b.x0, x-r); u <= min(b.x1-1, x+r); u++ {
					sum, n = sum+float64(src[v*w+u]), n+1
				}
			}
			if d := math.Abs(float64(dst[y*w+x]) - sum/n); d > 1e-5 {
				t.Fatalf("mean at (%d, %d) is %g off", x, y, d)
			}
		}
	}
}

// TestPaletteIsADensity: it integrates to one, and colours like those it
// learnt are likelier than others.
func TestPaletteIsADensity(t *testing.T) {
	s := swatches{lo: [3]float32{3, -0.5, -0.8}, step: [3]float32{0.08, 0.04, 0.04}}
	s.volume = float64(s.step[0]) * float64(s.step[1]) * float64(s.step[2])
	tl := newTally()
	rng := rand.New(rand.NewPCG(3, 9))
	for range 3000 {
		tl.add(s.cell(float32(4.2+0.1*rng.NormFloat64()), float32(0.1+0.03*rng.NormFloat64()), float32(-0.3+0.03*rng.NormFloat64())), 1)
	}
	p := tl.palette(&s)
	sum := 0.0
	for _, d := range p.density {
		sum += float64(d) * s.volume
	}
	if math.Abs(sum-1) > 1e-3 {
		t.Errorf("integrates to %v", sum)
	}
	if near, far := p.density[s.cell(4.2, 0.1, -0.3)], p.density[s.cell(4.2, 0.35, -0.3)]; near < 50*far {
		t.Errorf("density %v at the learnt colour, %v far from it", near, far)
	}
}
