package sight

import (
	"math"

	"boardhand/internal/chess"
)

const (
	busyCell    = 4    // plate pixels a cell, each way: 4 mm
	busyColour  = 0.20 // change of both log colour ratios together that no lamp makes
	busySquares = 2.5  // squares hidden in one piece from the board's edge on: certainly a hand or an arm
	busyAlike   = 0.5  // correlation of the brightness with before: above, the board shows through and only its light has changed
	busyMost    = 0.6  // share of the field; more is a bumped camera or another light
)

// busy looks quickly for a hand or an arm: a large connected piece of the
// picture of other colours than before that comes in from beside the board.
// It decides only the clear cases, in a few milliseconds; the others show up
// as what no move explains.
func (e *eye) busy(raw *plate) ([]chess.Square, bool) {
	if e.last == nil {
		return nil, false
	}
	cols, rows := (e.ground.box.x1-e.ground.box.x0)/busyCell, (e.ground.box.y1-e.ground.box.y0)/busyCell
	odd := e.otherCells(raw, cols, rows)
	var queue []int
	for start := range odd {
		if !odd[start] {
			continue
		}
		odd[start] = false
		queue = append(queue[:0], start)
		var p spill
		var per [64]float64
		var alike moments
		for len(queue) > 0 {
			c := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			mid := e.cellPixel(c, cols)
			e.account(&p, &per, mid, busyCell*busyCell)
			for _, i := range e.corners(mid) {
				alike.add(float64(raw.l[i]), float64(e.last.plate.l[i]))
			}
			x, y := c%cols, c/cols
			if x == 0 || y == 0 || x == cols-1 || y == rows-1 {
				p.outside = true
			}
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				if i, j := x+d[0], y+d[1]; i >= 0 && j >= 0 && i < cols && j < rows && odd[j*cols+i] {
					odd[j*cols+i] = false
					queue = append(queue, j*cols+i)
				}
			}
		}
		square := e.setup.Square * e.setup.Square * 1e6
		if p.outside && p.inside > busySquares*square && p.inside < busyMost*64*square && alike.correlation() < busyAlike {
			return squaresOf(&per, 0.2*square), true
		}
	}
	return nil, false
}

// cellPixel is the middle pixel of a cell.
func (e *eye) cellPixel(c, cols int) int {
	x, y := e.ground.box.x0+c%cols*busyCell+busyCell/2, e.ground.box.y0+c/cols*busyCell+busyCell/2
	return y*e.ground.w + x
}

// corners are four pixels of a cell, given its middle.
func (e *eye) corners(mid int) [4]int {
	return [4]int{mid, mid - 2, mid - 2*e.ground.w, mid - 2*e.ground.w - 2}
}

// otherCells marks the cells most of whose pixels have another colour than in
// the remembered picture, after taking out the common change.
func (e *eye) otherCells(raw *plate, cols, rows int) []bool {
	then := e.last.plate
	few := make([]int32, 0, len(e.samples)/4+1)
	for k := 0; k < len(e.samples); k += 4 {
		few = append(few, e.samples[k])
	}
	ml := float32(medianOf(few, func(i int32) float64 { return float64(raw.l[i] - then.l[i]) }))
	ma := float32(medianOf(few, func(i int32) float64 { return float64(raw.a[i] - then.a[i]) }))
	mb := float32(medianOf(few, func(i int32) float64 { return float64(raw.b[i] - then.b[i]) }))
	odd := make([]bool, cols*rows)
	for c := range odd {
		mid := e.cellPixel(c, cols)
		n := 0
		for _, i := range e.corners(mid) {
			dl := raw.l[i] - then.l[i] - ml
			da, db := raw.a[i]-then.a[i]-ma, raw.b[i]-then.b[i]-mb
			change := float32(math.Abs(float64(da)) + math.Abs(float64(db)))
			if change > busyColour+8*raw.noise[i] || dl < shadeDeepest || dl > shadeBright {
				n++
			}
		}
		odd[c] = n >= 3
	}
	return odd
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
