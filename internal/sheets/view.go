// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/draw"
)

// scales are those of ISO 5455, from the largest, and between 1:2 and 1:5 two more, which it
// leaves to exceptional cases: on A4 half of the machines would else be drawn too small to read.
var scales = []struct {
	name   string
	factor float64
}{{"5:1", 5}, {"2:1", 2}, {"1:1", 1}, {"1:2", 0.5}, {"1:2.5", 0.4}, {"1:4", 0.25}, {"1:5", 0.2}, {"1:10", 0.1}, {"1:20", 0.05}}

// extent is what a view shows, in millimetres of the machine, y upwards.
type extent struct{ x0, y0, x1, y1 float64 }

// view is a page on which the machine is drawn to scale, in its own millimetres.
type view struct {
	*draw.Drawing
	scale  string
	factor float64
	ox, oy float64 // of the machine's origin on paper, mm
	in     extent
	// how many dimension lines each side has, below, left, above, right
	used [4]int
}

// The sides of a view.
const (
	below = iota
	toLeft
	above
	toRight
)

// newView lays a view on a page at the largest scale that leaves room for so many dimension
// lines on each side: below, left, above, right.
func newView(p Paper, in extent, lines [4]int) *view {
	var best *view
	for _, paper := range []Paper{p, {p.Name, p.H, p.W}} {
		r := room(paper.W, paper.H)
		deep := func(side int) float64 {
			if lines[side] == 0 {
				return 0
			}
			return dimensionFirst + float64(lines[side]-1)*dimensionStep + large
		}
		w, h := r.X1-r.X0-deep(toLeft)-deep(toRight), r.Y1-r.Y0-deep(below)-deep(above)
		for _, s := range scales {
			if (in.x1-in.x0)*s.factor > w || (in.y1-in.y0)*s.factor > h {
				continue
			}
			if best == nil || s.factor > best.factor {
				free := w - (in.x1-in.x0)*s.factor
				high := h - (in.y1-in.y0)*s.factor
				best = &view{Drawing: &draw.Drawing{W: paper.W, H: paper.H}, scale: s.name, factor: s.factor, in: in,
					ox: r.X0 + deep(toLeft) + free/2 - in.x0*s.factor, oy: r.Y0 + deep(above) + high/2 + in.y1*s.factor}
			}
			break
		}
	}
	return best
}

// x and y are where a place of the machine lies on paper.
func (v *view) x(x float64) float64 { return v.ox + x*v.factor }
func (v *view) y(y float64) float64 { return v.oy - y*v.factor }

func (v *view) line(x0, y0, x1, y1 float64, i draw.Ink) {
	line(v, v.x(x0), v.y(y0), v.x(x1), v.y(y1), i)
}

func (v *view) box(x0, y0, x1, y1 float64, i draw.Ink) {
	box(v, v.x(x0), v.y(y0), v.x(x1), v.y(y1), i)
}

func (v *view) circle(x, y, radius float64, i draw.Ink) {
	v.Circle(v.x(x), v.y(y), radius*v.factor, i)
}

// cut hatches a box that is drawn in section.
func (v *view) cut(x0, y0, x1, y1 float64) {
	v.box(x0, y0, x1, y1, draw.Outline)
	r := draw.Rect{X0: v.x(x0), Y0: v.y(y1), X1: v.x(x1), Y1: v.y(y0)}
	var all draw.Drawing
	const step = 1.6
	for d := math.Floor((r.X0+r.Y0)/step) * step; d < r.X1+r.Y1; d += step {
		line(&all, d-r.Y1, r.Y1, d-r.Y0, r.Y0, draw.Ink{Width: 0.13})
	}
	all.Clipped(r).Play(v)
}

// say writes a word at a place of the machine.
func (v *view) say(x, y float64, text string) {
	v.Write(draw.Word{X: v.x(x), Y: v.y(y) + letter/3, Text: text, Size: letter, At: draw.Middle})
}

// point leads from a place of the machine to a word beside it, dx and dy on paper, mm.
func (v *view) point(x, y, dx, dy float64, text string) {
	px, py := v.x(x), v.y(y)
	along := 1.0
	w := draw.Word{X: px + dx + 2.6, Y: py + dy + letter/3, Text: text, Size: letter}
	if dx < 0 {
		along, w.X, w.At = -1, px+dx-2.6, draw.Right
	}
	for n := 0; n < 10 && v.isTaken(w.Box()); n++ { // farther up, or down
		dy += math.Copysign(lineStep/2, dy)
		w.Y = py + dy + letter/3
	}
	line(v, px, py, px+dx, py+dy, draw.Fine)
	v.Circle(px, py, 0.4, draw.Ink{Width: 0.4})
	line(v, px+dx, py+dy, px+dx+2*along, py+dy, draw.Fine)
	v.Write(w)
}

// across is a dimension along x on the next line of the side below or above.
func (v *view) across(side int, from, to, reach float64, text string) {
	level := dimensionFirst + float64(v.used[side])*dimensionStep
	v.used[side]++
	v.acrossAt(side, level, from, to, reach, text)
}

// acrossAt is a dimension along x, level millimetres of paper from the view; its extension
// lines begin at reach, a y of the machine.
func (v *view) acrossAt(side int, level, from, to, reach float64, text string) {
	y, sign := v.y(v.in.y0)+level, 1.0
	if side == above {
		y, sign = v.y(v.in.y1)-level, -1
	}
	a, b := v.x(from), v.x(to)
	for _, x := range []float64{a, b} {
		line(v, x, v.y(reach)+sign, x, y+sign*beyond, draw.Fine)
	}
	v.measure([2]float64{a, y}, [2]float64{b, y}, text)
}

// upright is a dimension along y on the next line of the side to the left or right.
func (v *view) upright(side int, from, to, reach float64, text string) {
	level := dimensionFirst + float64(v.used[side])*dimensionStep
	v.used[side]++
	v.uprightAt(side, level, from, to, reach, text)
}

func (v *view) uprightAt(side int, level, from, to, reach float64, text string) {
	x, sign := v.x(v.in.x0)-level, -1.0
	if side == toRight {
		x, sign = v.x(v.in.x1)+level, 1
	}
	a, b := v.y(from), v.y(to)
	for _, y := range []float64{a, b} {
		line(v, v.x(reach)+sign, y, x+sign*beyond, y, draw.Fine)
	}
	v.measure([2]float64{x, a}, [2]float64{x, b}, text)
}

// measure draws a dimension line with its arrows and its text, along x or upward along y. Where
// the arrows leave no room they come from outside, and the text stands beside (ISO 129-1).
func (v *view) measure(a, b [2]float64, text string) {
	upward := a[0] == b[0]
	axis := 0
	if upward {
		axis = 1
	}
	if a[axis] > b[axis] {
		a, b = b, a
	}
	word := draw.Word{X: (a[0] + b[0]) / 2, Y: a[1] - 1, Text: text, Size: letter, At: draw.Middle, Upward: upward}
	if upward {
		word.X, word.Y = a[0]-1, (a[1]+b[1])/2
	}
	width := word.Width()
	if b[axis]-a[axis] >= max(width+2, 3*arrow) {
		line(v, a[0], a[1], b[0], b[1], draw.Fine)
		v.head(a, axis, 1)
		v.head(b, axis, -1)
		v.Write(word)
		return
	}
	v.head(a, axis, -1)
	v.head(b, axis, 1)
	from, to := a, b
	from[axis], to[axis] = a[axis]-2*arrow, b[axis]+2*arrow
	for away := 0.0; ; away += 2 * letter {
		for _, sign := range []float64{1, -1} {
			middle := b[axis] + 2*arrow + away + width/2 + 0.5
			if sign < 0 {
				middle = a[axis] - 2*arrow - away - width/2 - 0.5
			}
			if upward {
				word.Y = middle
			} else {
				word.X = middle
			}
			if away < 60 && v.isTaken(word.Box()) {
				continue
			}
			from[axis], to[axis] = min(from[axis], middle-width/2), max(to[axis], middle+width/2)
			line(v, from[0], from[1], to[0], to[1], draw.Fine)
			v.Write(word)
			return
		}
	}
}

// isTaken says whether a word stands in a box already.
func (v *view) isTaken(b draw.Rect) bool {
	return slices.ContainsFunc(v.Words(), func(w draw.Word) bool { return w.Box().Overlaps(b) })
}

// head is an arrow whose tip is at a place; sign says to which side it lies.
func (v *view) head(tip [2]float64, axis int, sign float64) {
	p, q := tip, tip
	p[axis] += sign * arrow
	q[axis] += sign * arrow
	p[1-axis] += arrow / 6
	q[1-axis] -= arrow / 6
	v.Line([]float64{tip[0], p[0], q[0], tip[0]}, []float64{tip[1], p[1], q[1], tip[1]}, draw.Fine)
}

// sheet is the view as a sheet.
func (v *view) sheet(name, use string) Sheet {
	v.BreakAtWords()
	return Sheet{Title: name, Use: use, Scale: v.scale, Pages: []*draw.Drawing{v.Drawing}}
}

// tooLarge says that a view fits no paper.
func tooLarge(p Paper, in extent) error {
	return fmt.Errorf("%.0f × %.0f mm do not fit on %s paper even at 1:20: take larger paper (--paper a3)", in.x1-in.x0, in.y1-in.y0, p.Name)
}
