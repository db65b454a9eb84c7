// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// LearnSides learns the colours of both sides from the pieces of the board, and
// once more without the pieces that look like the board or like the other side:
// somebody may have moved them before the first picture.
func (m *Model) LearnSides(sc *scene.Scene, p *pixels.Image) {
	honest := make([]bool, len(sc.Pieces))
	for k := range honest {
		honest[k] = true
	}
	bare := m.Compare(m.Bare, p, &m.Conditions, sc.Plane.Box)
	m.countColours(sc, p, honest, nil, 0)
	for range 3 {
		for k := range sc.Pieces {
			honest[k] = m.isOfItsSide(sc, p, k, bare)
		}
		m.countColours(sc, p, honest, bare, 0)
	}
}

// isOfItsSide says whether a piece's pixels look more like its side than like the
// board or the other side.
func (m *Model) isOfItsSide(sc *scene.Scene, p *pixels.Image, k int, bare *Likelihood) bool {
	side := sc.Pieces[k].Piece.Color()
	var own, other, board float64
	for _, c := range sc.Pieces[k].Covers {
		if o := sc.Stack.At(c.Pixel); len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.9 {
			continue
		}
		cell := m.Bins.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
		own += numeric.Log(m.Appearance[side][c.Band].Density[cell])
		other += numeric.Log(m.Appearance[side.Other()][c.Band].Density[cell])
		board += numeric.Log(bare.At(int(c.Pixel), false))
	}
	return own >= other && own >= board
}

// countColours adds the colours of the pieces' pixels to the histograms (after fading
// them to share keep) and smooths them to colour models. With bare given, a pixel
// counts as surely as it shows the piece and not the board beside it.
func (m *Model) countColours(sc *scene.Scene, p *pixels.Image, honest []bool, bare *Likelihood, keep float32) {
	for c := range m.histograms {
		for b := range m.histograms[c] {
			if m.histograms[c][b] == nil {
				m.histograms[c][b] = NewHistogram()
			}
			m.histograms[c][b].Fade(keep)
		}
	}
	for k := range sc.Pieces {
		if honest != nil && !honest[k] {
			continue
		}
		side := sc.Pieces[k].Piece.Color()
		for _, c := range sc.Pieces[k].Covers {
			o := sc.Stack.At(c.Pixel)
			if len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.8 || p.IsUntold(int(c.Pixel)) {
				continue
			}
			cell := m.Bins.Cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
			w := c.Alpha
			if bare != nil {
				board := bare.At(int(c.Pixel), false)
				own := c.Alpha * m.Appearance[side][c.Band].Density[cell]
				w = own / (own + (1.02-c.Alpha)*board)
			}
			m.histograms[side][c.Band].Add(cell, w)
		}
	}
	for c := range m.histograms {
		for b := range m.histograms[c] {
			m.Appearance[c][b] = m.histograms[c][b].ColourModel(&m.Bins)
		}
	}
}
