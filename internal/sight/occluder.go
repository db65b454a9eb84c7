// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"iter"
)

// occluder is a connected part of the picture that covers what was there: a hand, an arm, a cup.
type occluder struct {
	patch
	rim   bool // it reaches the picture's rim
	brink bool // it reaches the brink of the board
}

// blobs collects the connected covered cells, over gaps of one cell, with the
// odd ones that touch them: where fingers end, cells show both.
func blobs(sc *scene, c, odd occlusion.Mask) []occluder {
	var out []occluder
	for start := range c.On {
		if !c.On[start] {
			continue
		}
		c.On[start], odd.On[start] = false, false
		at := start // the cell whose neighbours are listed
		around := func(k int) iter.Seq[int] {
			at = k
			return pixels.Around(k, 2, c.Cols, c.Rows)
		}
		take := func(j int) bool {
			apart := max(j%c.Cols-at%c.Cols, at%c.Cols-j%c.Cols, j/c.Cols-at/c.Cols, at/c.Cols-j/c.Cols)
			if !c.On[j] && !(apart == 1 && odd.On[j]) {
				return false
			}
			c.On[j], odd.On[j] = false, false
			return true
		}
		var p occluder
		pixels.Flood([]int{start}, around, take, func(k int) bool {
			p.addCell(sc, c, k)
			return true
		})
		p.cover(0.1 * sc.setup.Square * sc.setup.Square * 1e6)
		out = append(out, p)
	}
	return out
}

// addCell adds a cell of a mask to an occluder.
func (p *occluder) addCell(sc *scene, c occlusion.Mask, k int) {
	const n = occlusion.CellSide * occlusion.CellSide
	middle, x, y := c.Middle(k), k%c.Cols, k/c.Cols
	sc.account(&p.patch, middle, n)
	if sc.stack.Open(int32(middle)) < 0.5 {
		p.onPieces += sc.areaOf(n)
	}
	p.brink = p.brink || sc.brink(middle)
	p.rim = p.rim || x <= 1 || y <= 1 || x >= c.Cols-2 || y >= c.Rows-2
}

// handlike says whether a covered piece of the picture is a hand or an arm: it
// reaches over the board and comes in from the picture's edge, or, where that
// cannot be seen, from beside the board and is larger than pieces are there, or
// hides so much of the board that nothing else can be meant.
func (p *occluder) handlike(square float64) bool {
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

// reaching is the first of some occluders that is larger than a piece and reaches over
// the board's edge: too small or too little to be seen for a hand by itself, but a hand
// when no rule explains what it did to the board.
func reaching(sc *scene, over []occluder) (occluder, bool) {
	square := sc.setup.Square * sc.setup.Square * 1e6
	for _, p := range over {
		if p.brink && p.sheet > square {
			return p, true
		}
	}
	return occluder{}, false
}
