// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// kindOf says what the bare board is at a pixel, and false off the board and
// on the lines between squares, where the classes mix.
func (e *eye) kindOf(i int32) (int, bool) {
	x, y := float64(e.ground.X[i]), float64(e.ground.Y[i])
	f, q := e.setup.field(), e.setup.Square
	line := 0.7 * e.ground.Pitch
	if math.Abs(x) > f || math.Abs(y) > f {
		return background.MarginGround, math.Max(math.Abs(x), math.Abs(y)) < f+e.setup.Border-2*line && math.Max(math.Abs(x), math.Abs(y)) > f+line
	}
	u, v := (x+f)/q, (y+f)/q
	fu, fv := u-math.Floor(u), v-math.Floor(v)
	mixed := math.Min(math.Min(fu, 1-fu), math.Min(fv, 1-fv))*q < line
	return (int(u) + int(v)) & 1, !mixed
}

// paint fits the coat of one ground to the pixels where it lies open, robustly:
// a hand or a piece where none should be must not colour the board.
func (e *eye) paint(p *pixels.Image, kind int) (background.Surface, bool) {
	var where []int32
	for _, i := range e.samples {
		if k, ok := e.kindOf(i); ok && k == kind && e.stack.Open(i) > 0.97 {
			where = append(where, i)
		}
	}
	if len(where) < 40 {
		return background.Surface{}, false
	}
	return background.FitSurface(p, where), true
}

// imagine paints the bare board everywhere from its open places.
func (e *eye) imagine(p *pixels.Image) bool {
	var coats [background.Grounds]background.Surface
	for k := range coats {
		c, ok := e.paint(p, k)
		if !ok {
			if k != background.MarginGround {
				return false
			}
			c = coats[background.LightGround]
			c.Spread = 0.5 // nothing known of the margin
		}
		coats[k] = c
	}
	n := len(p.L)
	m := &background.Memory{Image: pixels.Blank(p), Spread: make([]float32, n)}
	for y := e.ground.Box.Y0; y < e.ground.Box.Y1; y++ {
		for i := y*p.W + e.ground.Box.X0; i < y*p.W+e.ground.Box.X1; i++ {
			k, _ := e.kindOf(int32(i))
			m.Image.L[i], m.Image.A[i], m.Image.B[i] = coats[k].At(p, i)
			m.Spread[i] = float32(coats[k].Spread)
		}
	}
	m.Slopes(e.ground.Box)
	e.coat, e.bare, e.bareN = m, m.Clone(), make([]uint8, n)
	e.inherit()
	e.air.Flat = e.swatches.Flat()
	e.air.Tint, _ = e.tinge(p, m.Image)
	e.shading = background.NewShadows(&e.swatches)
	e.study(e.shading, p, 0)
	return true
}

// inherit takes over the bare board as far as a former eye saw it.
func (e *eye) inherit() {
	if e.former == nil {
		return
	}
	from, to := e.former.bare, e.bare
	for i, n := range e.former.bareN {
		if n > 0 {
			to.Image.L[i], to.Image.A[i], to.Image.B[i] = from.Image.L[i], from.Image.A[i], from.Image.B[i]
			to.Spread[i], e.bareN[i] = 0, n
		}
	}
	to.Slopes(e.ground.Box)
}

// tinge finds how the colours change in a shadow: the lamp and the light from
// the room differ in colour. From the shadows on the open board that lit does
// not have; false when there are too few.
func (e *eye) tinge(p, lit *pixels.Image) ([2]float64, bool) {
	const deep, few = -0.15, 30 // a clear shadow; fewer pixels say nothing
	var a, b []float64
	for _, i := range e.samples {
		k, ok := e.kindOf(i)
		if !ok || k == background.MarginGround || e.stack.Open(i) < 0.97 {
			continue
		}
		if fall := float64(p.L[i] - lit.L[i]); fall < deep && fall > background.ShadeDeepest {
			a = append(a, float64(p.A[i]-lit.A[i])/fall)
			b = append(b, float64(p.B[i]-lit.B[i])/fall)
		}
	}
	if len(a) < few {
		return [2]float64{}, false
	}
	const most = 0.4 // no two household lamps differ more
	return [2]float64{math.Max(-most, math.Min(most, numeric.Median(a))), math.Max(-most, math.Min(most, numeric.Median(b)))}, true
}

// meetSides learns the colours of both sides from the pieces of the board, and
// once more without the pieces that look like the board or like the other side:
// somebody may have moved them before the first picture.
func (e *eye) meetSides(p *pixels.Image) {
	honest := make([]bool, len(e.pieces))
	for k := range honest {
		honest[k] = true
	}
	bare := e.compare(e.bare, p, &e.air)
	e.count(p, honest, nil, 0)
	for range 3 {
		for k := range e.pieces {
			honest[k] = e.fits(p, k, bare)
		}
		e.count(p, honest, bare, 0)
	}
}

// fits says whether a piece's pixels look more like its side than like the
// board or the other side.
func (e *eye) fits(p *pixels.Image, k int, bare *background.Likelihood) bool {
	side := e.pieces[k].piece.Color()
	var own, other, board float64
	for _, c := range e.pieces[k].covers {
		if o := e.stack.At(c.Pixel); len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.9 {
			continue
		}
		cell := e.swatches.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
		own += numeric.Log(e.palettes[side][c.Band].Density[cell])
		other += numeric.Log(e.palettes[side.Other()][c.Band].Density[cell])
		board += numeric.Log(bare.At(int(c.Pixel), false))
	}
	return own >= other && own >= board
}

// count adds the colours of the pieces's pixels to the tallies (after fading
// them to share keep) and smooths them to palettes. With bare given, a pixel
// counts as surely as it shows the piece and not the board beside it.
func (e *eye) count(p *pixels.Image, honest []bool, bare *background.Likelihood, keep float32) {
	for c := range e.tallies {
		for b := range e.tallies[c] {
			if e.tallies[c][b] == nil {
				e.tallies[c][b] = background.NewHistogram()
			}
			e.tallies[c][b].Fade(keep)
		}
	}
	for k := range e.pieces {
		if honest != nil && !honest[k] {
			continue
		}
		side := e.pieces[k].piece.Color()
		for _, c := range e.pieces[k].covers {
			o := e.stack.At(c.Pixel)
			if len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.8 {
				continue
			}
			cell := e.swatches.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
			w := c.Alpha
			if bare != nil {
				board := bare.At(int(c.Pixel), false)
				own := c.Alpha * e.palettes[side][c.Band].Density[cell]
				w = own / (own + (1.02-c.Alpha)*board)
			}
			e.tallies[side][c.Band].Add(cell, w)
		}
	}
	for c := range e.tallies {
		for b := range e.tallies[c] {
			e.palettes[c][b] = e.tallies[c][b].Palette(&e.swatches)
		}
	}
}

// colour-model memory from picture to picture.
const (
	keepColours = 0.9 // of the tallies per settled picture: ten pictures' memory
	bareMost    = 12  // pictures averaged in the bare board
)

// remember makes a settled picture, with what is known to stand in it, the
// one to compare with, and learns from it.
func (e *eye) remember(p, raw *pixels.Image, board pieces, at map[chess.Square]frame.Spot[frame.Board]) {
	e.board = board
	e.place(at)
	e.around = true
	if e.last == nil {
		e.raw[0] = raw
	}
	e.raw = [2]*pixels.Image{raw, e.raw[0]}
	e.last = &background.Memory{Image: p}
	e.last.Slopes(e.ground.Box)
	for y := e.ground.Box.Y0; y < e.ground.Box.Y1; y++ {
		for i := y*p.W + e.ground.Box.X0; i < y*p.W+e.ground.Box.X1; i++ {
			if e.stack.Open(int32(i)) > 0.99 {
				e.bareHere(p, i)
			}
		}
	}
	e.bare.Slopes(e.ground.Box)
	e.study(e.shading, p, keepColours)
	e.count(p, nil, e.compare(e.bare, p, &e.air), keepColours)
}

// bareHere averages a pixel of bare board into the memory.
func (e *eye) bareHere(p *pixels.Image, i int) {
	n := e.bareN[i]
	if n < bareMost {
		n++
		e.bareN[i] = n
	}
	k := 1 / float32(n)
	m := e.bare.Image
	m.L[i] += k * (p.L[i] - m.L[i])
	m.A[i] += k * (p.A[i] - m.A[i])
	m.B[i] += k * (p.B[i] - m.B[i])
	e.bare.Spread[i] = 0
}
