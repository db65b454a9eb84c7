// SPDX-License-Identifier: Apache-2.0

// Package limits computes what one rig lets the carriage do: where it reaches,
// how fast and how hard it may drag a piece, how far behind the piece follows,
// and how far from others it must keep. Frame Board, metres, seconds.
package limits

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// A place and an upright rectangle on the board plane, metres.
type (
	spot = frame.Spot[frame.Board]
	rect = frame.Rect[frame.Board]
)

// sheet is where bases may be: the printed sheet less half a base, but at
// least the field itself; with trays, out to beyond the slots.
func sheet(r *rig.Rig) rect {
	x, y := r.Board.Half()
	out := math.Max(0, float64(r.Board.Border)-float64(r.Pieces.Widest())/2)
	corner := spot{X: float64(x) + out, Y: float64(y) + out}
	paper := rect{Min: corner.Scale(-1), Max: corner}
	switch r.Removal.Mode {
	case "tray":
		for _, s := range r.Slots() {
			paper = paper.With(s)
		}
	case "chute":
		paper = paper.With(spot{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])})
	}
	return paper
}
