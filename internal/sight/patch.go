// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"math"
)

// patch is a connected part of the picture, and how much of the board plane it covers.
type patch struct {
	area     float64 // mm² of board plane
	onPieces float64 // of that, on pieces
	inside   float64 // of that, on the playing field
	sheet    float64 // and on the field with its margin
	squares  []chess.Square
	per      [64]float64 // mm² by square
}

// account adds so many pixels to a patch, all of them where pixel i is.
func (sc *scene) account(p *patch, i, n int) {
	area := sc.areaOf(n)
	p.area += area
	gx, gy, f := float64(sc.ground.X[i]), float64(sc.ground.Y[i]), sc.setup.field()
	if math.Abs(gx) < f+sc.setup.Border && math.Abs(gy) < f+sc.setup.Border {
		p.sheet += area
	}
	if sc.onField(i) {
		p.inside += area
		s := sc.setup.Square
		p.per[min(7, int((gy+f)/s))*8+min(7, int((gx+f)/s))] += area
	}
}

// areaOf is how much of the board plane so many pixels cover, mm².
func (sc *scene) areaOf(n int) float64 {
	return sc.ground.Pitch * sc.ground.Pitch * 1e6 * float64(n)
}

// cover lists the squares that carry more than some area, mm².
func (p *patch) cover(least float64) {
	p.squares = nil
	for s, a := range p.per {
		if a > least {
			p.squares = append(p.squares, chess.Square(s))
		}
	}
}
