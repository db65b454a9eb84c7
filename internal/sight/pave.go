// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
)

// Nothing is known beforehand of what lies beside the sheet: a machine's lid, a
// table. Its colours are taken from around each place, tile by tile.

// pave learns what the ground beside the sheet looks like around a place.
func (w *witness) pave(at frame.Spot[frame.Board]) {
	side := w.scene.setup.Square
	x, y := int(math.Floor(at.X/side)), int(math.Floor(at.Y/side))
	edge := w.scene.setup.field() + w.scene.setup.Border
	for j := y - 1; j <= y+1; j++ {
		for i := x - 1; i <= x+1; i++ {
			beside := math.Max(math.Abs(float64(i)+0.5), math.Abs(float64(j)+0.5))*side + side/2
			if tile := [2]int{i, j}; beside > edge && !w.paved[tile] {
				w.paved[tile] = true
				w.paveTile(frame.Spot[frame.Board]{X: (float64(i) + 0.5) * side, Y: (float64(j) + 0.5) * side})
			}
		}
	}
}

// paveTile gives the pixels of one tile, a square wide, the colours of the ground
// in twice its width. Places where pieces may stand count for nothing there.
func (w *witness) paveTile(middle frame.Spot[frame.Board]) {
	side := w.scene.setup.Square
	t := background.NewHistogram()
	var tile []int32
	w.strip(middle, side, func(i int32, at frame.Spot[frame.Board]) {
		if !w.slotted(at) {
			t.Add(int(w.cells[i]), 1)
		}
		if d := at.Sub(middle); math.Max(math.Abs(d.X), math.Abs(d.Y)) <= side/2 {
			tile = append(tile, i)
		}
	})
	if t.Weight < 1 {
		return
	}
	background.Blur(t.Count, 2)
	flat := float32(w.model.swatches.Flat())
	const broad = 0.1 // of the ground looks as nothing around it does
	k := (1 - broad) / float32(t.Weight*w.model.swatches.Volume)
	for _, i := range tile {
		w.bared[i] = k*t.Count[w.cells[i]] + broad*flat
		w.still[i] = w.bared[i]
		w.updateBase(i)
	}
}

// slotted says whether a piece in a slot would hide a place.
func (w *witness) slotted(at frame.Spot[frame.Board]) bool {
	const share = 0.3 // of a square: the widest bases
	for _, s := range w.scene.setup.Slots {
		if s.Distance(at) < share*w.scene.setup.Square {
			return true
		}
	}
	return false
}

// strip lists the pixels beside the sheet within a reach of a place both ways.
func (w *witness) strip(middle frame.Spot[frame.Board], reach float64, each func(int32, frame.Spot[frame.Board])) {
	g := w.scene.ground
	for i := range g.Window(middle.X-reach, middle.Y-reach, middle.X+reach, middle.Y+reach).Each(g.W) {
		at := frame.Spot[frame.Board]{X: float64(g.X[i]), Y: float64(g.Y[i])}
		if d := at.Sub(middle); w.scene.kinds[i] == background.NoGround && math.Max(math.Abs(d.X), math.Abs(d.Y)) <= reach {
			each(int32(i), at)
		}
	}
}
