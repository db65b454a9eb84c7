// Package lanes finds ways for a man's foot between the feet of the others:
// a disc among discs, in continuous coordinates, with the exact shortest way
// whenever there is one.
//
// The moving disc shrinks to a point and every standing disc grows by what
// must stay between the two centres (its Keep). The shortest way for the
// point is then made of straight pieces that touch two of the grown circles
// and of arcs along them, and searching the graph of these common tangents
// finds it: no grid, so a lane a hair wider than the foot is still found.
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
type Rect struct{ Min, Max Spot }

// Holds says whether p lies in the rectangle, its border included.
func (r Rect) Holds(p Spot) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// With returns the rectangle grown just enough to hold p.
func (r Rect) With(p Spot) Rect {
	r.Min = Spot{X: math.Min(r.Min.X, p.X), Y: math.Min(r.Min.Y, p.Y)}
	r.Max = Spot{X: math.Max(r.Max.X, p.X), Y: math.Max(r.Max.Y, p.Y)}
	return r
}

// Inset returns the rectangle with each side moved inwards by d; it never
// turns inside out.
func (r Rect) Inset(d float64) Rect {
	dx := math.Min(d, (r.Max.X-r.Min.X)/2)
	dy := math.Min(d, (r.Max.Y-r.Min.Y)/2)
	return Rect{Spot{X: r.Min.X + dx, Y: r.Min.Y + dy}, Spot{X: r.Max.X - dx, Y: r.Max.Y - dy}}
}

// Meet returns what two rectangles have in common.
func (r Rect) Meet(s Rect) Rect {
	return Rect{
		Spot{X: math.Max(r.Min.X, s.Min.X), Y: math.Max(r.Min.Y, s.Min.Y)},
		Spot{X: math.Min(r.Max.X, s.Max.X), Y: math.Min(r.Max.Y, s.Max.Y)},
	}
}

// Hurdle is something standing in the way.
type Hurdle struct {
	At   Spot
	Keep float64 // least distance from At to the moving centre
	// Yields marks a hurdle that could be moved out of the way (see Through).
	Yields bool
}

// Field is where the moving centre may go.
type Field struct {
	Inside  Rect // for the moving centre
	Calm    Rect // ways outside it cost a little more: the strip along the outer edge
	Hurdles []Hurdle
}

// touching is how far inside a circle a straight piece may pass before it
// counts as blocked: 1 nm, far below anything a maker can measure and far
// above rounding at board size (1e-16 m).
const touching = 1e-9

// grown returns the circles around the hurdles with extra added to every
// Keep. No circle may swallow the start or the end: a man that already stands
// close leaves (or arrives) without coming any closer.
func (f Field) grown(from, to Spot, extra float64) []circle {
	cs := make([]circle, 0, len(f.Hurdles)+2)
	for _, h := range f.Hurdles {
		near := math.Min(h.At.Distance(from), h.At.Distance(to)) - touching
		r := math.Max(0, math.Min(h.Keep+extra, near))
		cs = append(cs, circle{c: h.At, r: r, yields: h.Yields})
	}
	return append(cs, circle{c: from}, circle{c: to})
}
