package twin

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// tableZ is the height of the table top over the playing surface, m: the
// machine stands on it.
func (w *World) tableZ() float64 {
	return -math.Max(float64(w.rig.Walls.Height), float64(w.rig.Board.Thickness))
}

// wide says whether the picture's long side runs along the files' letters (x).
func (w *World) wide() bool {
	return w.rig.Camera.WhiteSide == "bottom" || w.rig.Camera.WhiteSide == "top"
}

// shelfSpot is the place of the n-th man of a side beside the machine: rows of
// eight, outwards.
func (w *World) shelfSpot(c chess.Color, n int) frame.Spot[frame.Board] {
	const perRow = 8
	pitch := 1.1 * float64(w.rig.Board.Square)
	wall := max(float64(w.rig.Walls.Left), float64(w.rig.Walls.Right), float64(w.rig.Walls.Front), float64(w.rig.Walls.Back),
		float64(w.rig.Board.Field())/2+float64(w.rig.Board.Border))
	high := math.Max(float64(w.rig.Camera.Height), 0.1)
	hidden := (wall + float64(w.rig.Walls.Thick) + 0.015) * (high - w.tableZ()) / high // what the machine's rim hides from the camera
	out := hidden + pitch*(0.5+float64(n/perRow))
	along := pitch * (float64(n%perRow) - (perRow-1)/2.0)
	if c == chess.White {
		out = -out
	}
	if w.wide() {
		return frame.Spot[frame.Board]{X: out, Y: along}
	}
	return frame.Spot[frame.Board]{X: along, Y: out}
}
