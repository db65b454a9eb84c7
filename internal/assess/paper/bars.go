// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"math"

	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
)

// Room for the names of bars, and for each of them, mm.
const barNames, barRow = 52.0, 5.6

// rungs are the scale upwards: the figure's own, or even numbers; bars have none.
func (c *chart) rungs() []figure.Rung {
	if len(c.f.Bars) > 0 || len(c.f.Rungs) > 0 {
		return c.f.Rungs
	}
	var out []figure.Rung
	for _, v := range ticks(c.y, int(c.in.h/8)) {
		out = append(out, figure.Rung{Y: v, Name: number(v)})
	}
	return out
}

// bars draws bars one below the other, each with its name at the left.
func (c *chart) bars() {
	for i, b := range c.f.Bars {
		y := c.in.y + barRow*(float64(i)+0.5)
		c.p.Write(draw.Word{X: c.in.x - 2, Y: y + small/3, Text: b.Name, Size: small, At: draw.Right})
		from, to, middle := c.px(math.Min(b.From, b.To)), c.px(math.Max(b.From, b.To)), c.px(b.Middle)
		h := barRow * 0.3
		c.p.Tone([]float64{from, to, to, from}, []float64{y - h, y - h, y + h, y + h}, draw.Light)
		c.p.Line([]float64{from, to, to, from, from}, []float64{y - h, y - h, y + h, y + h, y - h}, draw.Ink{Width: 0.25})
		c.p.Line([]float64{middle, middle}, []float64{y - 1.4*h, y + 1.4*h}, draw.Ink{Width: 0.5})
	}
}
