// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// meetSides learns the colours of both sides from the pieces of the board, and
// once more without the pieces that look like the board or like the other side:
// somebody may have moved them before the first picture.
func (m *model) meetSides(sc *scene, p *pixels.Image) {
	honest := make([]bool, len(sc.pieces))
	for k := range honest {
		honest[k] = true
	}
	bare := m.compare(m.bare, p, &m.air, sc.ground.Box)
	m.count(sc, p, honest, nil, 0)
	for range 3 {
		for k := range sc.pieces {
			honest[k] = m.fits(sc, p, k, bare)
		}
		m.count(sc, p, honest, bare, 0)
	}
}

// fits says whether a piece's pixels look more like its side than like the
// board or the other side.
func (m *model) fits(sc *scene, p *pixels.Image, k int, bare *background.Likelihood) bool {
	side := sc.pieces[k].piece.Color()
	var own, other, board float64
	for _, c := range sc.pieces[k].covers {
		if o := sc.stack.At(c.Pixel); len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.9 {
			continue
		}
		cell := m.swatches.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
		own += numeric.Log(m.palettes[side][c.Band].Density[cell])
		other += numeric.Log(m.palettes[side.Other()][c.Band].Density[cell])
		board += numeric.Log(bare.At(int(c.Pixel), false))
	}
	return own >= other && own >= board
}

// count adds the colours of the pieces's pixels to the tallies (after fading
// them to share keep) and smooths them to palettes. With bare given, a pixel
// counts as surely as it shows the piece and not the board beside it.
func (m *model) count(sc *scene, p *pixels.Image, honest []bool, bare *background.Likelihood, keep float32) {
	for c := range m.tallies {
		for b := range m.tallies[c] {
			if m.tallies[c][b] == nil {
				m.tallies[c][b] = background.NewHistogram()
			}
			m.tallies[c][b].Fade(keep)
		}
	}
	for k := range sc.pieces {
		if honest != nil && !honest[k] {
			continue
		}
		side := sc.pieces[k].piece.Color()
		for _, c := range sc.pieces[k].covers {
			o := sc.stack.At(c.Pixel)
			if len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.8 {
				continue
			}
			cell := m.swatches.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
			w := c.Alpha
			if bare != nil {
				board := bare.At(int(c.Pixel), false)
				own := c.Alpha * m.palettes[side][c.Band].Density[cell]
				w = own / (own + (1.02-c.Alpha)*board)
			}
			m.tallies[side][c.Band].Add(cell, w)
		}
	}
	for c := range m.tallies {
		for b := range m.tallies[c] {
			m.palettes[c][b] = m.tallies[c][b].Palette(&m.swatches)
		}
	}
}
