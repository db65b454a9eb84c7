// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Occluder is a connected part of the picture that covers what was there: a hand, an arm, a cup.
type Occluder struct {
	scene.Patch
	rim    bool    // it reaches the picture's rim
	brink  bool    // it reaches the brink of the board
	ground float64 // mm² of the board with its margin, besides where pieces stood
	cells  []int
}

// Hide marks the pixels of a picture under an occluder, and those beside them, as telling
// nothing.
func (p *Occluder) Hide(raw *pixels.Image) {
	if raw.Blind == nil {
		raw.Blind = make([]bool, len(raw.L))
	}
	cols, rows := raw.W/CellSide, raw.H/CellSide
	for _, k := range p.cells {
		for j := range pixels.Around(k, 1, cols, rows) {
			for i := range cellBox(j, cols).Each(raw.W) {
				raw.Blind[i] = true
			}
		}
	}
}

// cellBox is the pixels of a cell in a grid so many columns wide.
func cellBox(k, cols int) pixels.Box {
	x, y := k%cols*CellSide, k/cols*CellSide
	return pixels.Box{X0: x, Y0: y, X1: x + CellSide, Y1: y + CellSide}
}

// components collects the connected covered cells, over gaps of one cell, with the
// odd ones that touch them: where fingers end, cells show both.
func components(sc *scene.Scene, c, odd Mask) []Occluder {
	var out []Occluder
	for start := range c.On {
		if !c.On[start] {
			continue
		}
		c.On[start], odd.On[start] = false, false
		var p Occluder
		for queue := []int{start}; len(queue) > 0; {
			k := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			p.addCell(sc, c, k)
			beside, gap := c.near(k, 1), c.near(k, 2)
			for y := gap.Y0; y < gap.Y1; y++ {
				for x := gap.X0; x < gap.X1; x++ {
					j := y*c.Cols + x
					if c.On[j] || odd.On[j] && beside.Has(x, y) {
						c.On[j], odd.On[j] = false, false
						queue = append(queue, j)
					}
				}
			}
		}
		p.CountSquares(0.1 * sc.Setup.Square * sc.Setup.Square * 1e6)
		out = append(out, p)
	}
	return out
}

// addCell adds a cell of a mask to an occluder.
func (p *Occluder) addCell(sc *scene.Scene, c Mask, k int) {
	const n = CellSide * CellSide
	middle, x, y := c.Middle(k), k%c.Cols, k/c.Cols
	sc.Account(&p.Patch, middle, n)
	if sc.Stack.Open(int32(middle)) < 0.5 {
		p.OnPieces += sc.AreaOf(n)
	} else if !sc.IsAtBrink(middle, 1.5*CellSide) {
		p.ground += sc.AreaOf(n)
	}
	p.brink = p.brink || sc.IsAtBrink(middle, 1.5*CellSide)
	p.cells = append(p.cells, k)
	p.rim = p.rim || x <= 1 || y <= 1 || x >= c.Cols-2 || y >= c.Rows-2
}

// isHand says whether a covered piece of the picture is a hand or an arm: it
// reaches over the board and comes in from the picture's edge, or, where that
// cannot be seen, from beside the board and is larger than pieces are there, or
// hides so much of the board that nothing else can be meant. What lies in the board's
// middle alone has no arm, and what hides nothing of the board but a piece that leans out over
// its edge is the table beside it.
func (p *Occluder) isHand(square float64) bool {
	const (
		touch = 0.05 // squares of the board, with its margin, under it, besides where pieces stood
		least = 0.6  // squares besides where pieces stood: one that came or left at the rim makes half of that
		much  = 4.0  // squares: no piece and its shadow are so large, nor what people put down beside a board
	)
	if p.ground < touch*square {
		return false
	}
	beyond := p.brink && p.Inside >= touch*square && p.Area-p.Sheet > much*square
	return p.rim && p.Area-p.OnPieces > least*square || beyond || p.brink && p.Sheet > much*square
}

// Reaching is the first of some occluders that is larger than a piece and reaches over
// the board's edge: too small or too little to be seen for a hand by itself, but a hand
// when no rule explains what it did to the board.
func Reaching(sc *scene.Scene, over []Occluder) (Occluder, bool) {
	square := sc.Setup.Square * sc.Setup.Square * 1e6
	for _, p := range over {
		if p.brink && p.Sheet > square {
			return p, true
		}
	}
	return Occluder{}, false
}
