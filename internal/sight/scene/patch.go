// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"math"

	"boardhand/internal/chess"
)

// Patch is a connected part of the picture, and how much of the board plane it covers.
type Patch struct {
	Area     float64 // mm² of board plane
	OnPieces float64 // of that, on pieces
	Inside   float64 // of that, on the playing field
	Sheet    float64 // and on the field with its margin
	Squares  []chess.Square
	per      [64]float64 // mm² by square
}

// Account adds so many pixels to a patch, all of them where pixel i is.
func (sc *Scene) Account(p *Patch, i, n int) {
	area := sc.AreaOf(n)
	p.Area += area
	gx, gy, f := float64(sc.Plane.X[i]), float64(sc.Plane.Y[i]), sc.Setup.HalfField()
	if math.Abs(gx) < f+sc.Setup.Border && math.Abs(gy) < f+sc.Setup.Border {
		p.Sheet += area
	}
	if sc.IsOnField(i) {
		p.Inside += area
		s := sc.Setup.Square
		p.per[min(7, int((gy+f)/s))*8+min(7, int((gx+f)/s))] += area
	}
}

// AreaOf is how much of the board plane so many pixels cover, mm².
func (sc *Scene) AreaOf(n int) float64 {
	return sc.Plane.Pitch * sc.Plane.Pitch * 1e6 * float64(n)
}

// CountSquares lists the squares that carry more than some area, mm².
func (p *Patch) CountSquares(least float64) {
	p.Squares = nil
	for s, a := range p.per {
		if a > least {
			p.Squares = append(p.Squares, chess.Square(s))
		}
	}
}
