// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestPaletteIsADensity: it integrates to one, and colours like those it
// learnt are likelier than others.
func TestPaletteIsADensity(t *testing.T) {
	s := Bins{lo: [3]float32{3, -0.5, -0.8}, step: [3]float32{0.08, 0.04, 0.04}}
	s.Volume = float64(s.step[0]) * float64(s.step[1]) * float64(s.step[2])
	tl := NewHistogram()
	rng := rand.New(rand.NewPCG(3, 9))
	for range 3000 {
		tl.Add(s.Cell(float32(4.2+0.1*rng.NormFloat64()), float32(0.1+0.03*rng.NormFloat64()), float32(-0.3+0.03*rng.NormFloat64())), 1)
	}
	p := tl.ColourModel(&s)
	sum := 0.0
	for _, d := range p.Density {
		sum += float64(d) * s.Volume
	}
	if math.Abs(sum-1) > 1e-3 {
		t.Errorf("integrates to %v", sum)
	}
	if near, far := p.Density[s.Cell(4.2, 0.1, -0.3)], p.Density[s.Cell(4.2, 0.35, -0.3)]; near < 50*far {
		t.Errorf("density %v at the learnt colour, %v far from it", near, far)
	}
}
