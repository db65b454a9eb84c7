// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// A pixel whose light is doubtful shows what it shows in one of several lights, none of
// them likelier than another: its densities are their means.

// bin finds the colour models' cells of all pixels, in all lights.
func (g *Observation) bin(b pixels.Box) {
	g.cells = g.binned(g.Image, b)
	for _, o := range g.Image.Lights {
		g.others = append(g.others, g.binned(o, b))
	}
}

// binned are the cells of one image.
func (g *Observation) binned(p *pixels.Image, b pixels.Box) []int32 {
	cells := make([]int32, len(p.L))
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*p.W + b.X0; i < y*p.W+b.X1; i++ {
			cells[i] = int32(g.Model.Bins.Cell(p.L[i], p.A[i], p.B[i]))
		}
	}
	return cells
}

// mean is the density of a doubtful pixel over its lights, by their number.
func (g *Observation) mean(i int, in func(k int) float32) float32 {
	d := g.asTaken(g.Image, i, in(0))
	for k, o := range g.Image.Lights {
		d += g.asTaken(o, i, in(k+1))
	}
	return d / float32(1+len(g.Image.Lights))
}

// asTaken is the density of a pixel in the picture as it was taken, from that in one of its
// lights: under a reflection many colours become few. An outlier is one in any light.
func (g *Observation) asTaken(p *pixels.Image, i int, d float32) float32 {
	out := float32(background.OutlierShare * g.Conditions.OutlierDensity)
	return out + p.WeightAt(i)*max(0, d-out)
}

// Seen is the share of a piece's pixels of which the picture tells anything.
func (g *Observation) Seen(m *scene.Placement) float64 {
	all, told := 0.0, 0.0
	for _, c := range m.Covers {
		if c.Alpha > scene.Shows {
			all++
			if !g.Image.IsBlind(int(c.Pixel)) {
				told++
			}
		}
	}
	return told / max(1, all)
}

// remembered compares the picture, in all lights, with a memory. It holds until the next one;
// rooms are those of the lights, four numbers a pixel.
func (g *Observation) remembered(m *background.Template, rooms []*pixels.Scratch) func(i int, round bool) float32 {
	b := g.Scene.Plane.Box
	best := g.Model.Compare(m, g.Image, &g.Conditions, b)
	if g.Image.Doubtful == nil {
		return best.At
	}
	var others []*background.Likelihood
	for k, o := range g.Image.Lights {
		others = append(others, background.NewLikelihood(m, o, &g.Conditions, b, rooms[k].V))
	}
	return func(i int, round bool) float32 {
		if !g.Image.Doubtful[i] {
			return best.At(i, round)
		}
		in := func(k int) float32 {
			if k == 0 {
				return best.At(i, round)
			}
			return others[k-1].At(i, round)
		}
		if round {
			return g.above(i, in)
		}
		return g.mean(i, in)
	}
}

// lightOf is the picture in one of its lights: 0 is the likeliest.
func (g *Observation) lightOf(k int) *pixels.Image {
	if k == 0 {
		return g.Image
	}
	return g.Image.Lights[k-1]
}

// above is the mean of a piece's density over the lights of a pixel, by their number: 0 is
// the likeliest. Reflections lie on the board, and what stands on it hides them; where one
// lies on a piece all the same, that is seldom.
func (g *Observation) above(i int, in func(k int) float32) float32 {
	const seldom = 0.05
	if !g.Image.IsDoubtful(i) {
		return in(0)
	}
	var clear, veiled, n, of float32
	for k := range 1 + len(g.Image.Lights) {
		if g.lightOf(k).WeightAt(i) > 1 {
			veiled, of = veiled+in(k), of+1
		} else {
			clear, n = clear+in(k), n+1
		}
	}
	switch {
	case n == 0:
		return veiled / of
	case of == 0:
		return clear / n
	}
	return (1-seldom)*clear/n + seldom*veiled/of
}
