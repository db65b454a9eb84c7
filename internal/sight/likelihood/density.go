// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Observe compares a picture that was brought into the remembered light with what is
// remembered; in the first picture of a game, with what the models expect. raw is the
// picture as it came from the camera.
func Observe(sc *scene.Scene, m *background.Model, p, raw *pixels.Image) *Observation {
	g := &Observation{Scene: sc, Model: m, Image: p, Raw: raw}
	b := sc.Plane.Box
	g.bin(b)
	g.Conditions, g.shadows = m.Conditions, m.Shadows
	if m.Phase() == background.Following {
		if tint, ok := m.ShadowTint(sc, p, m.Reference.Image); ok {
			g.Conditions.ShadowTint = tint
		}
		g.shadows = m.Shadows.Clone()
		m.CountShadows(sc, g.shadows, p, background.KeepShadows)
	}
	g.expect(b)
	return g
}

// ObserveAlone is the observation of a picture as if it were the first one, on all of
// its pixels, with the pieces of a board at some places (by square; else in the middle).
func ObserveAlone(sc *scene.Scene, m *background.Model, lit *pixels.Image, board scene.Occupancy, at map[game.Square]frame.Spot[frame.Board]) *Observation {
	m = m.Unsettled()
	g := &Observation{Scene: sc.WithPieces(board, at), Model: m, Image: lit, Raw: lit, Conditions: m.Conditions, shadows: m.Shadows}
	all := make([]float32, 3*len(lit.L))
	k := len(lit.L)
	g.still, g.bared, g.Base = all[:k:k], all[k:2*k:2*k], all[2*k:]
	coat := evenBoard{g}
	g.bin(pixels.Box{X0: 0, Y0: 0, X1: lit.W, Y1: lit.H})
	for i := range lit.L {
		g.bared[i] = coat.at(i)
		g.still[i] = g.bared[i]
	}
	g.UpdateBases()
	return g
}

// expect fills the densities of the pixels of the box.
func (g *Observation) expect(b pixels.Box) {
	sc, m := g.Scene, g.Model
	n := len(g.cells)
	coat := evenBoard{g}
	all := make([]float32, 4*n)
	g.Same, g.still, g.bared, g.Base = all[:n:n], all[n:2*n:2*n], all[2*n:3*n:3*n], all[3*n:]
	rooms := make([]*pixels.Scratch, len(g.Image.Lights))
	for k := range rooms {
		rooms[k] = pixels.Borrow(4 * n)
		defer rooms[k].Return()
	}
	if m.Phase() == background.Meeting {
		bare := g.remembered(m.Bare, rooms)
		for i := range b.Each(g.Image.W) {
			g.bared[i] = (bare(i, false) + coat.at(i)) / 2
			g.still[i] = g.bared[i]
		}
		g.UpdateBases()
		return
	}
	g.structure = occlusion.StructureRatios(g.Image, m.Reference.Image, b)
	last := g.remembered(m.Reference, rooms)
	for i := range b.Each(g.Image.W) {
		g.Same[i] = last(i, sc.Stack.Open(int32(i)) < 0.5)
		g.still[i], g.Base[i] = stillLast*g.Same[i], g.structure[i]*g.Same[i]
	}
	bare := g.remembered(m.Bare, rooms)
	clear := float32(Strange * m.Conditions.OutlierDensity)
	for i := range b.Each(g.Image.W) {
		if g.still[i] > clear && sc.Stack.Open(int32(i)) > 0.99 {
			g.still[i] = g.Base[i] * stillLast
			continue // bare board as it was: nothing else can explain it better
		}
		d, c := bare(i, false), coat.at(i)
		g.bared[i] = (d + c) / 2
		g.still[i] = g.structure[i] * (g.still[i] + stillBare*d + (1-stillLast-stillBare)*c)
		g.updateBase(int32(i))
	}
}

// evenBoard judges pixels by the even colour of the board and its usual shadows.
type evenBoard struct{ *Observation }

// at is the density of pixel i if it shows the board.
func (c evenBoard) at(i int) float32 {
	if c.Scene.Grounds[i] == scene.NoGround {
		return float32(background.OutlierShare * c.Conditions.OutlierDensity)
	}
	if !c.Image.IsDoubtful(i) {
		return c.in(c.Image, i)
	}
	return c.mean(i, func(k int) float32 { return c.in(c.lightOf(k), i) })
}

// in is the density in one light.
func (c evenBoard) in(p *pixels.Image, i int) float32 {
	kinds, m := c.Scene.Grounds, c.Model.Even
	dl, da, db := p.L[i]-m.Image.L[i], p.A[i]-m.Image.A[i], p.B[i]-m.Image.B[i]
	n := float64(p.Noise[i])
	spread := float64(m.Spread[i])
	sl, sc := float64(m.SlopeL[i])*background.RegistrationSigma, float64(m.SlopeC[i])*background.RegistrationSigma
	vl, vc := n*n+spread*spread+sl*sl, background.ColourNoise*background.ColourNoise*n*n+spread*spread/4+sc*sc
	d2 := float64(dl*dl)/vl + float64(da*da+db*db)/vc
	lit := float32((1 - c.shadows.Share) * background.Gauss3(d2, vl, vc))
	dim := float32(c.shadows.Share) * c.shadows.At(int(kinds[i]), dl, da, db)
	return (1-background.OutlierShare)*(lit+dim) + float32(background.OutlierShare*c.Conditions.OutlierDensity)
}

// updateBase sets the density of a pixel if nothing has changed: of the pieces over
// it and of the board between them.
func (g *Observation) updateBase(px int32) {
	open, d := float32(1), float32(0)
	for _, o := range g.Scene.Stack.At(px) {
		d += open * o.Alpha * g.stays(px, o.Piece, o.Band)
		open *= 1 - o.Alpha
	}
	g.setBase(px, d+open*g.still[px])
}

// UpdateBases sets the densities as if there had been no picture before.
func (g *Observation) UpdateBases() {
	for i := range g.Scene.Plane.Box.Each(g.Image.W) {
		g.updateBase(int32(i))
	}
}

// Total is the logarithm of the probability of some pixels under the models.
func (g *Observation) Total(region []int32) float64 {
	sum := 0.0
	for _, px := range region {
		g.updateBase(px)
		sum += numeric.Log(g.Base[px])
	}
	return sum
}

// Contrast is how well a piece can be told from the ground under it, up to 1.
func (g *Observation) Contrast(m *scene.Placement) float64 {
	const least = 0.1
	sum, n := 0.0, 0.0
	for _, c := range m.Covers {
		if c.Alpha < 0.5 {
			continue
		}
		ground := g.bared[c.Pixel]
		if ground == 0 {
			ground = g.still[c.Pixel] // as it was: nobody has asked
		}
		sum += min(MostNats, math.Abs(numeric.Log(g.PieceDensity(c.Pixel, m.Piece, c.Band))-numeric.Log(ground)))
		n++
	}
	return max(least, sum/MostNats/max(1, n))
}
