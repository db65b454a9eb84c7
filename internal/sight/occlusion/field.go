// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"math"

	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// field is the evidence of structure that was not there, nats a cell; NaN where nobody has
// asked yet: most cells show what they did.
type field []float32

func newField(n int) field {
	f := make(field, n)
	for k := range f {
		f[k] = float32(math.NaN())
	}
	return f
}

// isFresh is the evidence of a pixel that its slope was not there: about 0 where some only
// went, as in a dim light.
func isFresh(v, _, h2, d2 float32) float32 { return float32(numeric.Log((v + d2) / (v + h2))) }

// isRicher is the evidence of a pixel that there is more structure than was: 0 where both
// pictures are bare.
func isRicher(v, g2, h2, _ float32) float32 { return float32(numeric.Log((v + g2) / (v + h2))) }

// around averages a field over the cells within two of one.
func (c *Comparison) around(k int, f field, of func(v, g2, h2, d2 float32) float32) float32 {
	b, sum := c.near(k, 2), float32(0)
	for y := b.Y0; y < b.Y1; y++ {
		for j := y*c.Cols + b.X0; j < y*c.Cols+b.X1; j++ {
			if v := f[j]; v != v {
				f[j] = c.newIn(j, of)
			}
			sum += f[j]
		}
	}
	return sum / float32((b.X1-b.X0)*(b.Y1-b.Y0))
}

// newIn is the evidence of a cell of structure that was not there.
func (c *Comparison) newIn(k int, of func(v, g2, h2, d2 float32) float32) (sum float32) {
	for b, y := c.inner(k), c.inner(k).Y0; y < b.Y1; y++ {
		for i := y*c.w + b.X0; i < y*c.w+b.X1; i++ {
			if c.now.L[i] <= pixels.Saturated {
				sum += of(c.at(i))
			}
		}
	}
	return sum
}
