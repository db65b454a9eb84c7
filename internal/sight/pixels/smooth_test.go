// SPDX-License-Identifier: Apache-2.0

package pixels

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
	b := Box{2, 1, 20, 16}
	Smooth(dst, src, w, b, r)
	for y := b.Y0; y < b.Y1; y++ {
		for x := b.X0; x < b.X1; x++ {
			sum, n := 0.0, 0.0
			for v := max(b.Y0, y-r); v <= min(b.Y1-1, y+r); v++ {
				for u := max(b.X0, x-r); u <= min(b.X1-1, x+r); u++ {
					sum, n = sum+float64(src[v*w+u]), n+1
				}
			}
			if d := math.Abs(float64(dst[y*w+x]) - sum/n); d > 1e-5 {
				t.Fatalf("mean at (%d, %d) is %g off", x, y, d)
			}
		}
	}
}
