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

// Reach is the rectangle the magnet's axis can go to: the axes' travel, and
// the carriage's body between the walls. Frame Board, metres.
func Reach(r *rig.Rig) frame.Rect[frame.Board] {
	x0, x1 := span(r.Axis.X, float64(r.Walls.Left-r.Carriage.Left), float64(r.Walls.Right-r.Carriage.Right))
	y0, y1 := span(r.Axis.Y, float64(r.Walls.Front-r.Carriage.Front), float64(r.Walls.Back-r.Carriage.Back))
	bx, by := float64(r.Axis.X.Backlash)/2, float64(r.Axis.Y.Backlash)/2 // left for taking it up
	return rect{Min: spot{X: x0 + bx, Y: y0 + by}, Max: spot{X: x1 - bx, Y: y1 - by}}
}

// span is what one axis reaches, from the field's centre; walls that were not
// given do not limit.
func span(a rig.Axis, low, high float64) (float64, float64) {
	lo, hi := -float64(a.Origin), float64(a.Travel-a.Origin)
	if low > 0 {
		lo = math.Max(lo, -low)
	}
	if high > 0 {
		hi = math.Min(hi, high)
	}
	return lo, hi
}

// sheet is where bases may be: the printed sheet less half a base, but at
// least the field itself; with trays, out to beyond the slots.
func sheet(r *rig.Rig) rect {
	half := float64(r.Board.Field()) / 2
	out := half + math.Max(0, float64(r.Board.Border)-Widest(r)/2)
	paper := rect{Min: spot{X: -out, Y: -out}, Max: spot{X: out, Y: out}}
	switch r.Removal.Mode {
	case "tray":
		for _, s := range Slots(r) {
			paper = paper.With(s)
		}
	case "chute":
		paper = paper.With(spot{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])})
	}
	return paper
}

// Widest is the largest base, metres.
func Widest(r *rig.Rig) float64 {
	p := r.Pieces
	w := 0.0
	for _, m := range []rig.Piece{p.King, p.Queen, p.Bishop, p.Knight, p.Rook, p.Pawn} {
		w = math.Max(w, float64(m.Base))
	}
	return w
}
