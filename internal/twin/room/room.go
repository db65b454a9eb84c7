// SPDX-License-Identifier: Apache-2.0

// Package room is the place around the machine, as its rig file gives it: how
// far the machine's top reaches, where the table is, where a person stands
// pieces that are out of play. Board frame, metres.
package room

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// TableZ is the height of the table top over the playing surface, m; below
// zero, since the machine stands on it.
func TableZ(r *rig.Rig) float64 {
	return -math.Max(float64(r.Walls.Height), float64(r.Board.Thickness))
}

// Top is how far the machine's top reaches from the field's centre, m: left,
// right, front, back.
func Top(r *rig.Rig) (half [4]float64) {
	x, y := r.Board.Half()
	border, w := r.Board.Border, r.Walls
	least := [4]float64{float64(x + border), float64(x + border), float64(y + border), float64(y + border)}
	for i, v := range [4]float64{float64(w.Left), float64(w.Right), float64(w.Front), float64(w.Back)} {
		half[i] = math.Max(least[i], v+float64(w.Thick))
	}
	return half
}

// isWide says whether the picture's long side runs along the files' letters (x).
func isWide(r *rig.Rig) bool {
	return r.Camera.WhiteSide == "bottom" || r.Camera.WhiteSide == "top"
}

// Shelf is the place of the n-th piece of a side beside the machine: White's
// on one side, Black's on the other, in rows outwards, along the
// picture's wide way, where the camera sees them.
func Shelf(r *rig.Rig, c chess.Color, n int) frame.Spot[frame.Board] {
	pitch := shelfPitch * float64(r.Board.Square)
	wall := max(float64(r.Walls.Left), float64(r.Walls.Right), float64(r.Walls.Front), float64(r.Walls.Back),
		float64(r.Board.Field())/2+float64(r.Board.Border))
	high := math.Max(float64(r.Camera.Height), leastHeight)
	hidden := (wall + float64(r.Walls.Thick) + shelfGap) * (high - TableZ(r)) / high // what the machine's rim hides from the camera
	out := hidden + pitch*(0.5+float64(n/perRow))
	along := pitch * (float64(n%perRow) - (perRow-1)/2.0)
	if c == chess.White {
		out = -out
	}
	if isWide(r) {
		return frame.Spot[frame.Board]{X: out, Y: along}
	}
	return frame.Spot[frame.Board]{X: along, Y: out}
}
