// SPDX-License-Identifier: Apache-2.0

// Package figure draws a rig's numbers as charts and plans, in plain numbers:
// whoever shows them decides on ink and paper.
package figure

import (
	"math"

	"boardhand/internal/frame"
)

// Figure is one drawing of the report as plain numbers: a chart, or a plan of
// the machine where Equal is set.
type Figure struct {
	ID, Title, Caption string
	XLabel, YLabel     string // with units
	X, Y               Extent
	Equal              bool // one scale for both directions
	Lines              []Line
	Bands              []Band
	Marks              []Mark
	Labels             []Label
	Rungs              []Rung // the scale upwards where it is not an even one
	Dots               []Dot
	Keys               []Dot // what dots mean, below the drawing; their places are not looked at
	Bars               []Bar // a chart of bars has no other lines, and no scale upwards
}

// Extent is the stretch of an axis shown.
type Extent struct{ From, To float64 }

// Stroke is how a line is drawn.
type Stroke int

// The strokes, from what matters most.
const (
	Bold Stroke = iota
	Thin
	Dashed
	Dotted
	Signal // what is wrong
)

// Line is a curve or an outline; without a name it stays out of the legend.
type Line struct {
	Name   string
	Stroke Stroke
	X, Y   []float64
}

// Band is the space between two curves over the same X.
type Band struct {
	Name      string
	X, Lo, Hi []float64
}

// Mark is a place on the X axis worth a vertical line.
type Mark struct {
	Name   string
	X      float64
	Signal bool
}

// Bar is a stretch of the X axis with a name, first on top; Middle is where it has a tick.
type Bar struct {
	Name             string
	From, Middle, To float64
}

// Rung is a place of the scale upwards with what it is called.
type Rung struct {
	Y    float64
	Name string
}

// Dot is a mark of its own at a place, a ring or full, with a word beside it.
type Dot struct {
	X, Y   float64
	Radius float64 // mm of paper
	Stroke Stroke
	IsFull bool
	Label  string
}

// Label is a word at a place.
type Label struct {
	X, Y float64
	Text string
}

// keepFinite drops what cannot be drawn.
func (f *Figure) keepFinite() {
	var lines []Line
	for _, l := range f.Lines {
		ok := len(l.X) == len(l.Y)
		for i := range l.X {
			ok = ok && !isBad(l.X[i]) && !isBad(l.Y[i])
		}
		if ok {
			lines = append(lines, l)
		}
	}
	f.Lines = lines
	for _, e := range []*Extent{&f.X, &f.Y} {
		if isBad(e.From) || isBad(e.To) || !(e.To > e.From) {
			*e = Extent{0, 1}
		}
	}
}

// over samples f at n+1 places of an extent.
func over(e Extent, n int, f func(x float64) float64) (xs, ys []float64) {
	for i := range n + 1 {
		x := e.From + (e.To-e.From)*float64(i)/float64(n)
		xs, ys = append(xs, x), append(ys, f(x))
	}
	return xs, ys
}

// spanOf is the extent of values with room above and below, zero included.
func spanOf(values ...[]float64) Extent {
	e := Extent{0, 0}
	for _, v := range values {
		for _, y := range v {
			e.From, e.To = math.Min(e.From, y), math.Max(e.To, y)
		}
	}
	room := 0.08 * (e.To - e.From)
	if e.From < 0 {
		e.From -= room
	}
	e.To += room
	return e
}

// ringLine is a circle as a closed line, millimetres.
func ringLine(at frame.Spot[frame.Board], radius float64, stroke Stroke) Line {
	l := Line{Stroke: stroke}
	for i := range 33 {
		a := 2 * math.Pi * float64(i) / 32
		l.X = append(l.X, at.X*1e3+radius*math.Cos(a))
		l.Y = append(l.Y, at.Y*1e3+radius*math.Sin(a))
	}
	return l
}

// box is a rectangle as a closed line, millimetres.
func box(name string, stroke Stroke, x, y Extent) Line {
	return Line{Name: name, Stroke: stroke, X: []float64{x.From, x.To, x.To, x.From, x.From}, Y: []float64{y.From, y.From, y.To, y.To, y.From}}
}

func isBad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
