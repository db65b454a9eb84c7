// SPDX-License-Identifier: Apache-2.0

// Package lanes finds ways for a piece's base between the bases of the others:
// a disc among discs, in continuous coordinates, with the exact shortest way
// whenever there is one.
//
// The moving disc shrinks to a point and every standing disc grows by what
// must stay between the two centres (its Keep). The shortest way for the
// point is then made of straight pieces that touch two of the grown circles
// and of arcs along them, and searching the graph of these common tangents
// finds it: no grid, so a lane a hair wider than the base is still found.
//
// Everything is on the board plane: frame Board, metres.
package lanes

import (
	"math"

	"boardhand/internal/frame"
)

// Spot is a place on the board plane, metres.
type Spot = frame.Spot[frame.Board]

// Rect is an upright rectangle on the board plane.
type Rect = frame.Rect[frame.Board]

// Hurdle is something standing in the way.
type Obstacle struct {
	At   Spot
	Keep float64 // least distance from At to the moving centre
	// Yields marks an obstacle that could be moved out of the way (see Through).
	Yields bool
}

// Field is where the moving centre may go.
type Field struct {
	Inside    Rect // for the moving centre
	Favoured  Rect // ways outside it cost a little more: the strip along the outer edge
	Obstacles []Obstacle
}

// grown returns the circles around the obstacles with extra added to every
// Keep. No circle may swallow the start or the end: a piece that already stands
// close leaves (or arrives) without coming any closer.
func (f Field) grown(from, to Spot, extra float64) []circle {
	cs := make([]circle, 0, len(f.Obstacles)+2)
	for _, h := range f.Obstacles {
		near := math.Min(h.At.Distance(from), h.At.Distance(to)) - touching
		r := math.Max(0, math.Min(h.Keep+extra, near))
		cs = append(cs, circle{c: h.At, r: r, yields: h.Yields})
	}
	return append(cs, circle{c: from}, circle{c: to})
}
