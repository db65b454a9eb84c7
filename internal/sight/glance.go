// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// observe compares a picture that was brought into the remembered light with what is
// remembered; in the first picture of a game, with what the models expect. raw is the
// picture as it came from the camera.
func observe(sc *scene, m *model, p, raw *pixels.Image) *glance {
	n := len(p.L)
	g := &glance{scene: sc, model: m, plate: p, raw: raw, cells: make([]int32, n)}
	b := sc.ground.Box
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*p.W + b.X0; i < y*p.W+b.X1; i++ {
			g.cells[i] = int32(m.swatches.Cell(p.L[i], p.A[i], p.B[i]))
		}
	}
	g.air, g.shading = m.air, m.shading
	if m.phase() == following {
		if tint, ok := m.tinge(sc, p, m.last.Image); ok {
			g.air.Tint = tint
		}
		g.shading = m.shading.Clone()
		m.study(sc, g.shading, p, keepShadows)
	}
	g.expect(b)
	return g
}

// observeAlone is the observation of a picture as if it were the first one, on all of
// its pixels, with the pieces of a board at some places (by square; else in the middle).
func observeAlone(sc *scene, m *model, lit *pixels.Image, board pieces, at map[chess.Square]frame.Spot[frame.Board]) *glance {
	m = m.unsettled()
	g := &glance{scene: sc.seenAgain(board, at), model: m, plate: lit, raw: lit, air: m.air, shading: m.shading, cells: make([]int32, len(lit.L))}
	all := make([]float32, 3*len(lit.L))
	k := len(lit.L)
	g.still, g.bared, g.base = all[:k:k], all[k:2*k:2*k], all[2*k:]
	coat := coated{g}
	for i := range lit.L {
		g.cells[i] = int32(m.swatches.Cell(lit.L[i], lit.A[i], lit.B[i]))
		g.bared[i] = coat.at(i)
		g.still[i] = g.bared[i]
	}
	g.updateBases()
	return g
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
	sc, m := g.scene, g.model
	n := len(g.cells)
	coat := coated{g}
	all := make([]float32, 4*n)
	g.same, g.still, g.bared, g.base = all[:n:n], all[n:2*n:2*n], all[2*n:3*n:3*n], all[3*n:]
	if m.phase() == meeting {
		bare := m.compare(m.bare, g.plate, &g.air, sc.ground.Box)
		for i := range b.Each(g.plate.W) {
			g.bared[i] = baredBare*bare.At(i, false) + baredCoat*coat.at(i)
			g.still[i] = g.bared[i]
		}
		g.updateBases()
		return
	}
	g.relief = occlusion.StructureRatios(g.plate, m.last.Image, b)
	last := m.compare(m.last, g.plate, &g.air, sc.ground.Box)
	for i := range b.Each(g.plate.W) {
		g.same[i] = last.At(i, sc.stack.Open(int32(i)) < 0.5)
		g.still[i], g.base[i] = stillLast*g.same[i], g.relief[i]*g.same[i]
	}
	bare := m.compare(m.bare, g.plate, &g.air, sc.ground.Box)
	clear := float32(strange * m.air.Flat)
	for i := range b.Each(g.plate.W) {
		if g.still[i] > clear && sc.stack.Open(int32(i)) > 0.99 {
			g.still[i] = g.base[i] * stillLast
			continue // bare board as it was: nothing else can explain it better
		}
		d, c := bare.At(i, false), coat.at(i)
		g.bared[i] = baredBare*d + baredCoat*c
		g.still[i] = g.relief[i] * (g.still[i] + stillBare*d + stillCoat*c)
		g.updateBase(int32(i))
	}
}

// coated judges pixels by the even coat of the board and its usual shadows.
type coated struct{ *glance }

// at is the density of pixel i if it shows the board.
func (c coated) at(i int) float32 {
	kinds, m, p := c.scene.kinds, c.model.coat, c.plate
	if kinds[i] == background.NoGround {
		return float32(background.Outlier * c.air.Flat)
	}
	dl, da, db := p.L[i]-m.Image.L[i], p.A[i]-m.Image.A[i], p.B[i]-m.Image.B[i]
	n := float64(p.Noise[i]) * c.air.Noise
	spread := float64(m.Spread[i])
	sl, sc := float64(m.SlopeL[i])*background.Jitter, float64(m.SlopeC[i])*background.Jitter
	vl, vc := n*n+spread*spread+sl*sl, background.ColourNoise*background.ColourNoise*n*n+spread*spread/4+sc*sc
	d2 := float64(dl*dl)/vl + float64(da*da+db*db)/vc
	lit := float32((1 - c.shading.Share) * background.Gauss3(d2, vl, vc))
	dim := float32(c.shading.Share) * c.shading.At(int(kinds[i]), dl, da, db)
	return (1-background.Outlier)*(lit+dim) + float32(background.Outlier*c.air.Flat)
}

// updateBase sets the density of a pixel if nothing has changed: of the pieces over
// it and of the board between them.
func (g *glance) updateBase(px int32) {
	open, d := float32(1), float32(0)
	for _, o := range g.scene.stack.At(px) {
		d += open * o.Alpha * g.stays(px, o)
		open *= 1 - o.Alpha
	}
	g.base[px] = d + open*g.still[px]
}

// updateBases sets the densities as if there had been no picture before.
func (g *glance) updateBases() {
	for i := range g.scene.ground.Box.Each(g.plate.W) {
		g.updateBase(int32(i))
	}
}

// total is the logarithm of the probability of some pixels under the models.
func (g *glance) total(region []int32) float64 {
	sum := 0.0
	for _, px := range region {
		g.updateBase(px)
		sum += numeric.Log(g.base[px])
	}
	return sum
}
