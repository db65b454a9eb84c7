// SPDX-License-Identifier: Apache-2.0

package draw

import "math"

// Stretch draws a straight line.
func Stretch(p Pen, x0, y0, x1, y1 float64, i Ink) { p.Line([]float64{x0, x1}, []float64{y0, y1}, i) }

// Fill fills a rectangle.
func Fill(p Pen, r Rect, t Tint) {
	p.Tone([]float64{r.X0, r.X1, r.X1, r.X0}, []float64{r.Y0, r.Y0, r.Y1, r.Y1}, t)
}

// Disc fills a circle: a polygon of 32 corners, whose sides are within 0.5 % of its radius.
func Disc(p Pen, x, y, radius float64, t Tint) {
	const corners = 32
	var xs, ys []float64
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		xs, ys = append(xs, x+radius*cos), append(ys, y+radius*sin)
	}
	p.Tone(xs, ys, t)
}

// Hatch draws lines at 45° over a square, its corner at (x, y): what is dark.
func Hatch(p Pen, x, y, side float64) {
	thin := Ink{Width: 0.13, Grey: true}
	const lines = 6
	for k := 1; k < 2*lines; k++ {
		d := float64(k) / lines * side
		if d <= side {
			Stretch(p, x, y+d, x+d, y, thin)
		} else {
			Stretch(p, x+d-side, y+side, x+side, y+d-side, thin)
		}
	}
}
