// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// behold brings a picture into the remembered light and compares it with what
// is remembered; in the first picture of a game, with what the models expect.
func (e *eye) behold(raw *pixels.Image) *glance {
	p := e.lit(raw)
	n := len(p.L)
	g := &glance{eye: e, plate: p, raw: raw, cells: make([]int32, n)}
	b := e.ground.Box
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*p.W + b.X0; i < y*p.W+b.X1; i++ {
			g.cells[i] = int32(e.swatches.Cell(p.L[i], p.A[i], p.B[i]))
		}
	}
	g.air, g.shading = e.air, e.shading
	if e.last != nil {
		if tint, ok := e.tinge(p, e.last.Image); ok {
			g.air.Tint = tint
		}
		g.shading = e.shading.Clone()
		e.study(g.shading, p, keepShadows)
	}
	g.expect(b)
	return g
}

// lit is a picture in the remembered light.
func (e *eye) lit(raw *pixels.Image) *pixels.Image {
	from := e
	if e.last == nil {
		from = e.former
	}
	if from == nil {
		return raw
	}
	k := background.FitIllumination(raw, from.familiar, from.samples)
	return k.Apply(raw, e.ground.Box)
}

// familiar is the plate whose light a pixel is brought into: the bare board's,
// as averaged over many pictures, where it lies open, so that a shadow in the
// last picture is not taken for the light.
func (e *eye) familiar(i int32) *pixels.Image {
	if e.stack.Open(i) > 0.97 {
		return e.bare.Image
	}
	return e.last.Image
}

// Shares of what a pixel of board can be taken from: the last picture, the
// bare board as remembered, and the even coat of its ground, which knows
// neither grain nor shadows and so is right where a shadow went away.
const (
	stillLast, stillBare, stillCoat = 0.65, 0.20, 0.15
	staysLast                       = 0.93 // and of a piece: the rest is the colours of its side
	baredBare, baredCoat            = 0.50, 0.50
)

// expect fills the densities of the pixels of the box.
func (g *glance) expect(b pixels.Box) {
	e := g.eye
	n := len(g.cells)
	coat := coated{g}
	all := make([]float32, 4*n)
	g.same, g.still, g.bared, g.base = all[:n:n], all[n:2*n:2*n], all[2*n:3*n:3*n], all[3*n:]
	if e.last == nil {
		bare := e.compare(e.bare, g.plate, &g.air)
		for i := range b.Each(g.plate.W) {
			g.bared[i] = baredBare*bare.At(i, false) + baredCoat*coat.at(i)
			g.still[i] = g.bared[i]
		}
		g.remodel()
		return
	}
	g.relief = occlusion.StructureRatios(g.plate, e.last.Image, b)
	last := e.compare(e.last, g.plate, &g.air)
	for i := range b.Each(g.plate.W) {
		g.same[i] = last.At(i, e.stack.Open(int32(i)) < 0.5)
		g.still[i], g.base[i] = stillLast*g.same[i], g.relief[i]*g.same[i]
	}
	bare := e.compare(e.bare, g.plate, &g.air)
	clear := float32(strange * e.air.Flat)
	for i := range b.Each(g.plate.W) {
		if g.still[i] > clear && e.stack.Open(int32(i)) > 0.99 {
			g.still[i] = g.base[i] * stillLast
			continue // bare board as it was: nothing else can explain it better
		}
		d, c := bare.At(i, false), coat.at(i)
		g.bared[i] = baredBare*d + baredCoat*c
		g.still[i] = g.relief[i] * (g.still[i] + stillBare*d + stillCoat*c)
		g.model(int32(i))
	}
}

// coated judges pixels by the even coat of the board and its usual shadows.
type coated struct{ *glance }

// at is the density of pixel i if it shows the board.
func (c coated) at(i int) float32 {
	e, m, p := c.eye, c.eye.coat, c.plate
	if e.kinds[i] == background.NoGround {
		return float32(background.Outlier * c.air.Flat)
	}
	dl, da, db := p.L[i]-m.Image.L[i], p.A[i]-m.Image.A[i], p.B[i]-m.Image.B[i]
	n := float64(p.Noise[i]) * c.air.Noise
	spread := float64(m.Spread[i])
	sl, sc := float64(m.SlopeL[i])*background.Jitter, float64(m.SlopeC[i])*background.Jitter
	vl, vc := n*n+spread*spread+sl*sl, background.ColourNoise*background.ColourNoise*n*n+spread*spread/4+sc*sc
	d2 := float64(dl*dl)/vl + float64(da*da+db*db)/vc
	lit := float32((1 - c.shading.Share) * background.Gauss3(d2, vl, vc))
	dim := float32(c.shading.Share) * c.shading.At(int(e.kinds[i]), dl, da, db)
	return (1-background.Outlier)*(lit+dim) + float32(background.Outlier*c.air.Flat)
}

// model sets the density of a pixel if nothing has changed: of the pieces over
// it and of the board between them.
func (g *glance) model(px int32) {
	open, d := float32(1), float32(0)
	for _, o := range g.eye.stack.At(px) {
		d += open * o.Alpha * g.stays(px, o)
		open *= 1 - o.Alpha
	}
	g.base[px] = d + open*g.still[px]
}

// remodel sets the densities as if there had been no picture before.
func (g *glance) remodel() {
	for i := range g.eye.ground.Box.Each(g.plate.W) {
		g.model(int32(i))
	}
}
