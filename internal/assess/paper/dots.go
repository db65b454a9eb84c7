// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"slices"

	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
)

// dots draws marks, then their words where these cover neither marks nor each other.
func (c *chart) dots() {
	var taken []draw.Rect
	for _, d := range c.f.Dots {
		x, y := c.px(d.X), c.py(d.Y)
		c.dot(x, y, d)
		taken = append(taken, draw.Rect{X0: x - d.Radius, Y0: y - d.Radius, X1: x + d.Radius, Y1: y + d.Radius})
	}
	if len(c.f.Dots) > 0 {
		taken = append(taken, c.strokesOf(c.f.Lines)...)
	}
	for _, d := range c.f.Dots {
		if d.Label != "" {
			w := c.beside(d, taken)
			c.p.Write(w)
			taken = append(taken, w.Box())
		}
	}
}

// strokesOf are the boxes around each stretch of lines.
func (c *chart) strokesOf(lines []figure.Line) (out []draw.Rect) {
	for _, l := range lines {
		for i := 1; i < len(l.X); i++ {
			x, y, then, to := c.px(l.X[i-1]), c.py(l.Y[i-1]), c.px(l.X[i]), c.py(l.Y[i])
			out = append(out, draw.Rect{X0: min(x, then), Y0: min(y, to), X1: max(x, then), Y1: max(y, to)})
		}
	}
	return out
}

// dot draws one mark on paper.
func (c *chart) dot(x, y float64, d figure.Dot) {
	if !d.IsFull {
		c.p.Circle(x, y, d.Radius, strokes[d.Stroke])
		return
	}
	draw.Disc(c.p, x, y, d.Radius, draw.Solid)
}

// beside is a mark's word at the first place around it that is free, or else right of it.
func (c *chart) beside(d figure.Dot, taken []draw.Rect) draw.Word {
	var first draw.Word
	for i, far := range []float64{1, 1, 1, 1, 2.5, 2.5, 2.5, 2.5, 4, 4, 4, 4} {
		away := d.Radius + 0.7*far
		w := draw.Word{X: c.px(d.X), Y: c.py(d.Y) + small/3, Text: d.Label, Size: small}
		switch i % 4 {
		case 0:
			w.X += away
		case 1:
			w.Y, w.At = c.py(d.Y)-away, draw.Middle
		case 2:
			w.Y, w.At = c.py(d.Y)+away+small*0.7, draw.Middle
		case 3:
			w.X, w.At = w.X-away, draw.Right
		}
		if i == 0 {
			first = w
		}
		box := w.Box()
		inside := box.Within(draw.Rect{X0: c.in.x, Y0: c.in.y, X1: c.in.x + c.in.w, Y1: c.in.y + c.in.h})
		if inside && !slices.ContainsFunc(taken, box.Overlaps) {
			return w
		}
	}
	return first
}
