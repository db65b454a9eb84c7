// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
)

// busy looks for a hand or an arm: something that covers what was there,
// reaches in from the picture's edge and lies over the board. It compares the
// whole picture with the remembered one, cell by cell, in a few milliseconds,
// and needs neither the light nor the pieces to be known. It returns all that it
// finds, and the hand.
//
// When most of the field has lost its structure the camera was bumped, and
// nothing can be said before the board has been found again.
func (e *eye) busy(raw *pixels.Image) (over []spill, hand *spill) {
	odd, ok := e.covered(raw)
	if !ok {
		return nil, nil
	}
	over = e.blobs(odd.Solid(), odd)
	square := e.setup.Square * e.setup.Square * 1e6
	for k := range over {
		if over[k].handlike(square) {
			return over, &over[k]
		}
	}
	return over, nil
}

const bumped = 0.5 // share of the field's cells whose structure is hidden when the camera has moved

// covered marks the cells over which something lies: they show neither what
// the last settled picture showed nor what the one before did (a shadow or its
// grain, or a hand beside the board, may have been in the last alone). False
// after a bump.
func (e *eye) covered(raw *pixels.Image) (occlusion.Mask, bool) {
	c := occlusion.Compare(raw, e.raw[0])
	seen := c.Judge()
	odd := occlusion.Mask{Grid: c.Grid, On: make([]bool, len(seen))}
	lost, told, any := 0, 0, false
	for k, s := range seen {
		zone := e.zone(c.Middle(k))
		if zone == beside && !e.around {
			continue
		}
		odd.On[k] = c.Covered(k, s)
		any = any || odd.On[k]
		if zone == overField && s != occlusion.Untold {
			told++
			if s == occlusion.Hidden {
				lost++
			}
		}
	}
	if any && e.raw[1] != e.raw[0] {
		for k, is := range occlusion.Compare(raw, e.raw[1]).Unlike() {
			odd.On[k] = odd.On[k] && is
		}
	}
	return odd, float64(lost) <= bumped*float64(told)
}

// zones of the picture.
const (
	beside = iota
	overMargin
	overField
)

func (e *eye) zone(i int) int {
	f := e.setup.field()
	switch far := math.Max(math.Abs(float64(e.ground.X[i])), math.Abs(float64(e.ground.Y[i]))); {
	case far < f:
		return overField
	case far < f+e.setup.Border:
		return overMargin
	}
	return beside // NaN too
}

// brink says whether a pixel lies within a cell of the board's outer edge, or
// beside the board.
func (e *eye) brink(i int) bool {
	far := math.Max(math.Abs(float64(e.ground.X[i])), math.Abs(float64(e.ground.Y[i])))
	return !(far < e.setup.field()+e.setup.Border-1.5*occlusion.CellSide*e.ground.Pitch)
}

// blobs collects the connected covered cells, over gaps of one cell, with the
// odd ones that touch them: where fingers end, cells show both.
func (e *eye) blobs(c, odd occlusion.Mask) []spill {
	var out []spill
	var queue []int
	for start := range c.On {
		if !c.On[start] {
			continue
		}
		c.On[start], odd.On[start] = false, false
		queue = append(queue[:0], start)
		var p spill
		var per [64]float64
		for len(queue) > 0 {
			k := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			e.account(&p, &per, c.Middle(k), occlusion.CellSide*occlusion.CellSide)
			x, y := k%c.Cols, k/c.Cols
			if e.stack.Open(int32(c.Middle(k))) < 0.5 {
				p.onPieces += occlusion.CellSide * occlusion.CellSide * e.ground.Pitch * e.ground.Pitch * 1e6
			}
			p.brink = p.brink || e.brink(c.Middle(k))
			p.rim = p.rim || x <= 1 || y <= 1 || x >= c.Cols-2 || y >= c.Rows-2
			for v := max(0, y-2); v <= min(c.Rows-1, y+2); v++ {
				for u := max(0, x-2); u <= min(c.Cols-1, x+2); u++ {
					j := v*c.Cols + u
					if beside := max(u-x, x-u, v-y, y-v) == 1; c.On[j] || beside && odd.On[j] {
						c.On[j], odd.On[j] = false, false
						queue = append(queue, j)
					}
				}
			}
		}
		p.squares = squaresOf(&per, 0.1*e.setup.Square*e.setup.Square*1e6)
		out = append(out, p)
	}
	return out
}

// handlike says whether a covered piece of the picture is a hand or an arm: it
// reaches over the board and comes in from the picture's edge, or, where that
// cannot be seen, from beside the board and is larger than pieces are there, or
// hides so much of the board that nothing else can be meant.
func (p *spill) handlike(square float64) bool {
	const (
		touch = 0.05 // squares of the board, with its margin, under it
		least = 0.6  // squares besides where pieces stood: one that came or left at the rim makes half of that
		much  = 4.0  // squares: no piece and its shadow are so large, nor what people put down beside a board
	)
	if p.sheet < touch*square {
		return false
	}
	beyond := p.brink && p.inside >= touch*square && p.area-p.sheet > much*square
	return p.rim && p.area-p.onPieces > least*square || beyond || p.sheet > much*square
}

// squaresOf lists the squares that carry more than some area.
func squaresOf(per *[64]float64, least float64) []chess.Square {
	var out []chess.Square
	for s, a := range per {
		if a > least {
			out = append(out, chess.Square(s))
		}
	}
	return out
}
