// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"math"

	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/scene"
)

// StructureUnder is how much structure lies under a silhouette, of the bare board's:
// the mean logarithm of the squared slopes of brightness over its median. Lines
// between squares and other pieces do not count.
func (g *Observation) StructureUnder(m scene.Placement) float64 {
	if g.ridges == nil {
		g.ridges = g.levels()
	}
	sum, n := 0.0, 0.0
	for _, c := range m.Covers {
		if k := g.Scene.Grounds[c.Pixel]; c.Alpha > scene.Shows && g.isPlain(c.Pixel) {
			sum += math.Log1p(g.slope2(c.Pixel) / g.ridges[k])
			n++
		}
	}
	const few = 30
	if n < few {
		return 0
	}
	return sum / n
}

// isPlain says whether the slope at a pixel is that of one ground that lies open: it is taken
// over this many pixels to each side.
func (g *Observation) isPlain(px int32) bool {
	const reach = 2
	for _, d := range [5]int{0, -reach, reach, -reach * g.Image.W, reach * g.Image.W} {
		i := int(px) + d
		if i < 0 || i >= len(g.Scene.Grounds) || g.Scene.Grounds[i] != g.Scene.Grounds[px] || g.Scene.Stack.Open(int32(i)) <= 0.98 {
			return false
		}
	}
	return g.Scene.Grounds[px] != scene.MixedGround
}

// levels is the median squared slope of each ground where it lies open.
func (g *Observation) levels() []float64 {
	out := make([]float64, scene.NoGround+1)
	for kind := range out {
		var all []float64
		for _, i := range g.Scene.Samples {
			if int(g.Scene.Grounds[i]) == kind && g.Scene.Stack.Open(i) > 0.98 {
				all = append(all, g.slope2(i))
			}
		}
		out[kind] = math.Inf(1) // never seen open
		if len(all) > 0 {
			out[kind] = max(1e-9, numeric.Median(all))
		}
	}
	out[scene.NoGround] = out[scene.LightGround] // what lies there is not known: about as smooth
	return out
}

// slope2 is the squared slope of the brightness at a pixel.
func (g *Observation) slope2(i int32) float64 {
	p, l := g.Image, g.Image.Softened()
	x, y := int(i)%p.W, int(i)/p.W
	if x == 0 || y == 0 || x == p.W-1 || y == p.H-1 {
		return 0
	}
	dx, dy := l[i+1]-l[i-1], l[int(i)+p.W]-l[int(i)-p.W]
	return float64(dx*dx + dy*dy)
}

// Repave gives the pixels of a tile beside the sheet the colours of the ground around it.
func (g *Observation) Repave(tile, around []int32) {
	t := background.NewHistogram()
	for _, i := range around {
		t.Add(int(g.cells[i]), 1)
	}
	if t.Weight < 1 {
		return
	}
	background.Blur(t.Count, 2)
	flat := float32(g.Model.Bins.OutlierDensity())
	const broad = 0.1 // of the ground looks as nothing around it does
	k := (1 - broad) / float32(t.Weight*g.Model.Bins.Volume)
	for _, i := range tile {
		g.bared[i] = k*t.Count[g.cells[i]] + broad*flat
		g.still[i] = g.bared[i]
		g.updateBase(i)
	}
}
