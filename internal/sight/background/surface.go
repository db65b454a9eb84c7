// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"

	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Surface is the smooth colour of one ground over the board.
type Surface struct {
	L      [6]float64 // 1, x, y, x², xy, y² of the image
	A, B   [3]float64
	Spread float64 // σ of L about it: grain of the wood, shadows of pieces
}

// At is the colour of the ground at pixel i of an image.
func (c *Surface) At(p *pixels.Image, i int) (l, a, b float32) {
	x, y, _ := p.Place(i)
	l = float32(c.L[0] + x*(c.L[1]+x*c.L[3]+y*c.L[4]) + y*(c.L[2]+y*c.L[5]))
	return l, float32(c.A[0] + x*c.A[1] + y*c.A[2]), float32(c.B[0] + x*c.B[1] + y*c.B[2])
}

// FitSurface fits the colour of one ground to some pixels that show it, robustly:
// a hand or a piece where none should be must not colour the board.
func FitSurface(p *pixels.Image, where []int32) Surface {
	var c Surface
	c.L[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.L[i]) })
	c.A[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.A[i]) })
	c.B[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.B[i]) })
	f := newRobustFit(p, where)
	for k, plane := range [3][]float32{p.L, p.A, p.B} {
		f.want[k] = make([]float64, len(where))
		for n, i := range where {
			f.want[k][n] = float64(plane[i])
		}
	}
	second, first := make([]float64, 0, 6*len(where)), make([]float64, 0, 3*len(where))
	for _, at := range f.places {
		x, y := at[0], at[1]
		second, first = append(second, 1, x, y, x*x, x*y, y*y), append(first, 1, x, y)
	}
	for range fitRounds {
		c.Spread = f.weighSurface(&c)
		f.solve(c.L[:], f.want[0], second)
		f.solve(c.A[:], f.want[1], first)
		f.solve(c.B[:], f.want[2], first)
	}
	return c
}

// weighSurface gives every sample its Cauchy weight about the surface and returns the
// robust σ of the brightness.
func (f *robustFit) weighSurface(c *Surface) float64 {
	r := make([]float64, len(f.where))
	light := make([]float64, len(f.where))
	for n, i := range f.where {
		l, a, b := c.At(f.now, int(i))
		dl, da, db := float64(f.now.L[i]-l), float64(f.now.A[i]-a), float64(f.now.B[i]-b)
		r[n] = math.Sqrt(dl*dl + da*da + db*db)
		light[n] = math.Abs(dl)
	}
	s := math.Max(leastSigma, numeric.Median(append([]float64(nil), r...)))
	for n := range r {
		z := r[n] / (tailSigmas * s)
		f.weights[n] = 1 / numeric.RobustDivisor(z)
	}
	return math.Max(leastSigma, 1.4826*numeric.Median(light)) // σ from the median absolute deviation
}
