// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"math"
	"strconv"

	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
)

// frameBox is where the axes of a drawing are, millimetres.
type frameBox struct{ x, y, w, h float64 }

// Space around the axes and type sizes, mm.
const (
	marginLeft, marginTop = 16.0, 9.0
	marginBottom          = 11.0
	small, normal         = 2.6, 3.0
	legendRow             = 4.4
	markRow               = 3.4
	planWidth             = 103.0
	chartHeight           = 54.0
)

// chart draws one figure into a width and returns the height it took.
type chart struct {
	p    draw.Pen
	f    figure.Figure
	in   frameBox
	x, y figure.Extent
}

// heightOf is how tall a figure becomes at a width.
func heightOf(f figure.Figure, width float64) float64 {
	c := layout(f, width)
	return c.in.y + c.in.h + marginBottom + legendRow*float64(rows(f)) + 2
}

// rows of the legend: named bands, lines and marks.
func rows(f figure.Figure) int {
	n := len(f.Bands) + len(f.Marks) + len(f.Keys)
	for _, l := range f.Lines {
		if l.Name != "" {
			n++
		}
	}
	return n
}

func layout(f figure.Figure, width float64) chart {
	c := chart{f: f, x: f.X, y: f.Y}
	c.in = frameBox{x: marginLeft, y: marginTop, w: width - marginLeft - 4, h: chartHeight}
	if len(f.Bars) > 0 {
		c.in.x, c.in.w, c.in.h = barNames, width-barNames-4, barRow*float64(len(f.Bars))
	}
	if f.Equal {
		c.in.w = math.Min(c.in.w, planWidth)
		c.in.x = (width - c.in.w) / 2
		c.in.h = c.in.w * (c.y.To - c.y.From) / (c.x.To - c.x.From)
	}
	return c
}

// place puts the figure on paper.
func place(p draw.Pen, f figure.Figure, width float64) {
	c := layout(f, width)
	c.p = p
	p.Write(draw.Word{X: c.in.x, Y: 5, Text: f.Title, Size: 3.6})
	for _, b := range f.Bands {
		c.band(b)
	}
	c.axes()
	c.bars()
	c.marks()
	for _, l := range f.Lines {
		c.curve(l)
	}
	c.dots()
	for _, l := range f.Labels {
		p.Write(draw.Word{X: c.px(l.X), Y: c.py(l.Y) + small/3, Text: l.Text, Size: small, At: draw.Middle})
	}
	c.legend()
}

func (c *chart) px(x float64) float64 {
	return c.in.x + (x-c.x.From)/(c.x.To-c.x.From)*c.in.w
}

func (c *chart) py(y float64) float64 {
	return c.in.y + c.in.h - (y-c.y.From)/(c.y.To-c.y.From)*c.in.h
}

// band fills the space between two curves, cut off at the frame.
func (c *chart) band(b figure.Band) {
	var xs, ys []float64
	hold := func(y float64) float64 { return c.py(math.Max(c.y.From, math.Min(c.y.To, y))) }
	for i := range b.X {
		xs, ys = append(xs, c.px(b.X[i])), append(ys, hold(b.Hi[i]))
	}
	for i := len(b.X) - 1; i >= 0; i-- {
		xs, ys = append(xs, c.px(b.X[i])), append(ys, hold(b.Lo[i]))
	}
	for _, v := range append(append([]float64{}, xs...), ys...) {
		if math.IsNaN(v) {
			return
		}
	}
	c.p.Tone(xs, ys, draw.Light)
}

// axes draws the frame, the ticks with their numbers and the units.
func (c *chart) axes() {
	b := c.in
	fine := draw.Ink{Width: 0.2}
	c.p.Line([]float64{b.x, b.x + b.w, b.x + b.w, b.x, b.x}, []float64{b.y, b.y, b.y + b.h, b.y + b.h, b.y}, fine)
	for _, v := range ticks(c.x, int(b.w/18)) {
		x := c.px(v)
		c.p.Line([]float64{x, x}, []float64{b.y + b.h, b.y + b.h + 1}, fine)
		c.p.Write(draw.Word{X: x, Y: b.y + b.h + 4, Text: number(v), Size: small, At: draw.Middle})
	}
	for _, r := range c.rungs() {
		y := c.py(r.Y)
		c.p.Line([]float64{b.x - 1, b.x}, []float64{y, y}, fine)
		c.p.Write(draw.Word{X: b.x - 1.6, Y: y + small/3, Text: r.Name, Size: small, At: draw.Right})
	}
	if c.y.From < 0 && c.y.To > 0 && !c.f.Equal && len(c.f.Rungs) == 0 {
		c.p.Line([]float64{b.x, b.x + b.w}, []float64{c.py(0), c.py(0)}, draw.Ink{Width: 0.15, Grey: true})
	}
	c.p.Write(draw.Word{X: b.x + b.w/2, Y: b.y + b.h + 8.5, Text: c.f.XLabel, Size: normal, At: draw.Middle})
	c.p.Write(draw.Word{X: b.x - 11.5, Y: b.y + b.h/2, Text: c.f.YLabel, Size: normal, At: draw.Middle, Upward: true})
}

// ticks are round numbers inside an extent, about n of them.
func ticks(e figure.Extent, n int) (out []float64) {
	raw := (e.To - e.From) / math.Max(float64(n), 1)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5, 10} {
		if k*step >= raw {
			step *= k
			break
		}
	}
	for k := math.Ceil(e.From/step - 1e-9); k*step <= e.To+step*1e-9 && len(out) < 50; k++ {
		out = append(out, k*step)
	}
	return out
}

func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6+0, 'g', 6, 64) // +0 turns −0 into 0
}

// strokes of the figure as ink.
var strokes = map[figure.Stroke]draw.Ink{
	figure.Bold: {Width: 0.55}, figure.Thin: {Width: 0.25}, figure.Dashed: {Width: 0.35, Dash: []float64{2, 1.2}},
	figure.Dotted: {Width: 0.2, Dash: []float64{0.4, 0.8}}, figure.Signal: {Width: 0.4, Signal: true},
}

// curve draws a line, cut off at the frame.
func (c *chart) curve(l figure.Line) {
	var xs, ys []float64
	for i := range l.X {
		xs, ys = append(xs, c.px(l.X[i])), append(ys, c.py(l.Y[i]))
	}
	var whole draw.Drawing
	whole.Line(xs, ys, strokes[l.Stroke])
	whole.Clipped(draw.Rect{X0: c.in.x, Y0: c.in.y, X1: c.in.x + c.in.w, Y1: c.in.y + c.in.h}).Play(c.p)
}

// marks draws vertical lines with letters on top; near ones on two levels.
func (c *chart) marks() {
	last, level := math.Inf(-1), 0
	for i, k := range c.sorted() {
		m := c.f.Marks[k]
		x := c.px(m.X)
		if x < c.in.x || x > c.in.x+c.in.w {
			continue
		}
		level = 1 - level
		if x-last > 4 {
			level = 0
		}
		last = x
		_ = i
		c.p.Line([]float64{x, x}, []float64{c.in.y, c.in.y + c.in.h}, draw.Ink{Width: 0.25, Dash: []float64{3, 0.8, 0.6, 0.8}, Signal: m.Signal})
		c.p.Write(draw.Word{X: x, Y: c.in.y - 0.8 - markRow*float64(level)*0.8, Text: letter(k), Size: small, At: draw.Middle, Signal: m.Signal})
	}
}

// sorted are the marks from left to right.
func (c *chart) sorted() []int {
	out := make([]int, len(c.f.Marks))
	for i := range out {
		out[i] = i
		for j := i; j > 0 && c.f.Marks[out[j]].X < c.f.Marks[out[j-1]].X; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

func letter(i int) string { return string(rune('A' + i)) }

// legend lists what the strokes mean, below the drawing.
func (c *chart) legend() {
	x, y := c.in.x, c.in.y+c.in.h+marginBottom+legendRow-1
	if c.f.Equal {
		x = marginLeft
	}
	row := func(text string, signal bool, sample func(y float64)) {
		sample(y - 1)
		c.p.Write(draw.Word{X: x + 12, Y: y, Text: text, Size: normal, Signal: signal})
		y += legendRow
	}
	for _, l := range c.f.Lines {
		if l.Name != "" {
			row(l.Name, false, func(y float64) { c.p.Line([]float64{x, x + 9}, []float64{y, y}, strokes[l.Stroke]) })
		}
	}
	for _, b := range c.f.Bands {
		row(b.Name, false, func(y float64) {
			c.p.Tone([]float64{x, x + 9, x + 9, x}, []float64{y - 1.4, y - 1.4, y + 1.4, y + 1.4}, draw.Light)
		})
	}
	for _, d := range c.f.Keys {
		row(d.Label, false, func(y float64) { c.dot(x+4.5, y, d) })
	}
	for i, m := range c.f.Marks {
		row(m.Name, m.Signal, func(y float64) {
			c.p.Write(draw.Word{X: x + 4.5, Y: y + 1, Text: letter(i), Size: normal, At: draw.Middle, Signal: m.Signal})
		})
	}
}
