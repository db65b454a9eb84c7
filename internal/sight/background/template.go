// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"
	"slices"

	"boardhand/internal/sight/pixels"
)

// Template is a picture to compare with: what a pixel looked like, how much it
// varies around it, and how steep the picture is there, because a third of a
// pixel's jitter matters on an edge.
type Template struct {
	Image  *pixels.Image
	Spread []float32 // σ of L beyond the noise, for places never seen (0: seen)
	SlopeL []float32 // steepest step of L to a neighbour
	SlopeC []float32 // and of the colours
}

// image is the template's picture, nil where there is no template.
func (m *Template) image() *pixels.Image {
	if m == nil {
		return nil
	}
	return m.Image
}

// Slopes computes the memory's steepness inside the box.
func (m *Template) Slopes(b pixels.Box) {
	p := m.Image
	n := len(p.L)
	m.SlopeL, m.SlopeC = make([]float32, n), make([]float32, n)
	for y := max(b.Y0, 1); y < min(b.Y1, p.H-1); y++ {
		for x := max(b.X0, 1); x < min(b.X1, p.W-1); x++ {
			i := y*p.W + x
			m.SlopeL[i] = root(steep(p.L, i, p.W))
			m.SlopeC[i] = root(max(steep(p.A, i, p.W), steep(p.B, i, p.W)))
		}
	}
}

// steep is the square of the steepest step to a neighbour.
func steep(v []float32, i, w int) float32 {
	dx, dy := (v[i+1]-v[i-1])/2, (v[i+w]-v[i-w])/2
	return dx*dx + dy*dy
}

func root(v float32) float32 { return float32(math.Sqrt(float64(v))) }

// Gauss3 is the normal density in three planes from the squared distance in σ
// and the variances of the brightness and of both colours.
func Gauss3(d2, vl, vc float64) float64 {
	if d2 > 60 {
		return 0
	}
	const k = 0.06349363593424097 // (2π)^(−3/2)
	return k * math.Exp(-d2/2) / (math.Sqrt(vl) * vc)
}

// Moved is the density of pixel i if it shows what the memory had shift
// pixels before it.
func (m *Template) Moved(now *pixels.Image, i int32, shift [2]float32) float32 {
	p := m.Image
	x, y := float32(int(i)%p.W)-shift[0], float32(int(i)/p.W)-shift[1]
	if x < 1 || y < 1 || x >= float32(p.W-2) || y >= float32(p.H-2) {
		return 0
	}
	x0, y0 := int(x), int(y)
	fx, fy := x-float32(x0), y-float32(y0)
	k := y0*p.W + x0
	of := func(v []float32) float64 {
		top, low := v[k:][:2], v[k+p.W:][:2]
		return float64((1-fy)*((1-fx)*top[0]+fx*top[1]) + fy*((1-fx)*low[0]+fx*low[1]))
	}
	dl, da, db := float64(now.L[i])-of(p.L), float64(now.A[i])-of(p.A), float64(now.B[i])-of(p.B)
	n := float64(now.Noise[i]) * 1.4
	sl, sc := of(m.SlopeL)*nudgeSigma, of(m.SlopeC)*nudgeSigma
	vl, vc := n*n+sl*sl, ColourNoise*ColourNoise*n*n+sc*sc
	return float32((1 - OutlierShare) * Gauss3(dl*dl/vl+(da*da+db*db)/vc, vl, vc))
}

// Clone is a memory that can change on its own; the slopes are shared until
// they are computed anew.
func (m *Template) Clone() *Template {
	c := *m
	p := *m.Image
	p.L, p.A, p.B = slices.Clone(p.L), slices.Clone(p.A), slices.Clone(p.B)
	c.Image, c.Spread = &p, slices.Clone(m.Spread)
	return &c
}
