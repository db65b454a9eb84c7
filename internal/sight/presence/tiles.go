// SPDX-License-Identifier: Apache-2.0

package presence

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/sight/scene"
)

// Nothing is known beforehand of what lies beside the sheet: a machine's lid, a
// table. Its colours are taken from around each place, tile by tile.

// learnTiles learns what the ground beside the sheet looks like around a place.
func (w *Inspection) learnTiles(at frame.Spot[frame.Board]) {
	side := w.Scene.Setup.Square
	x, y := int(math.Floor(at.X/side)), int(math.Floor(at.Y/side))
	edge := w.Scene.Setup.HalfField() + w.Scene.Setup.Border
	for j := y - 1; j <= y+1; j++ {
		for i := x - 1; i <= x+1; i++ {
			beside := math.Max(math.Abs(float64(i)+0.5), math.Abs(float64(j)+0.5))*side + side/2
			if tile := [2]int{i, j}; beside > edge && !w.tiles[tile] {
				w.tiles[tile] = true
				w.learnTile(frame.Spot[frame.Board]{X: (float64(i) + 0.5) * side, Y: (float64(j) + 0.5) * side})
			}
		}
	}
}

// learnTile gives the pixels of one tile, a square wide, the colours of the ground
// in twice its width. Places where pieces may stand count for nothing there.
func (w *Inspection) learnTile(middle frame.Spot[frame.Board]) {
	side := w.Scene.Setup.Square
	var tile, around []int32
	w.strip(middle, side, func(i int32, at frame.Spot[frame.Board]) {
		if !w.slotted(at) {
			around = append(around, i)
		}
		if d := at.Sub(middle); math.Max(math.Abs(d.X), math.Abs(d.Y)) <= side/2 {
			tile = append(tile, i)
		}
	})
	w.Repave(tile, around)
}

// slotted says whether a piece in a slot would hide a place.
func (w *Inspection) slotted(at frame.Spot[frame.Board]) bool {
	const share = 0.3 // of a square: the widest bases
	for _, s := range w.Scene.Setup.Slots {
		if s.Distance(at) < share*w.Scene.Setup.Square {
			return true
		}
	}
	return false
}

// strip lists the pixels beside the sheet within a reach of a place both ways.
func (w *Inspection) strip(middle frame.Spot[frame.Board], reach float64, each func(int32, frame.Spot[frame.Board])) {
	g := w.Scene.Plane
	for i := range g.Window(middle.X-reach, middle.Y-reach, middle.X+reach, middle.Y+reach).Each(g.W) {
		at := frame.Spot[frame.Board]{X: float64(g.X[i]), Y: float64(g.Y[i])}
		if d := at.Sub(middle); w.Scene.Grounds[i] == scene.NoGround && math.Max(math.Abs(d.X), math.Abs(d.Y)) <= reach {
			each(int32(i), at)
		}
	}
}
