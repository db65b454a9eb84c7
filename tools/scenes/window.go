// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// window is an upright window between the sun and the board: panes parted by
// bars.
type window struct {
	middle     vec // mm, board frame
	out, side  vec // unit: away from the board; to the side in the window's plane
	panes      [2]int
	wide, high float64 // mm, of a pane
	bar        float64 // mm
	start      [2]float64
	sun        vec     // mm
	disc       float64 // radians
}

// drawWindow draws a window through which the sun reaches the board.
func drawWindow(d dice, sun lamp) window {
	azimuth := math.Atan2(sun.at[1], sun.at[0])
	turned := azimuth + d.bell(0.25, 0.5)
	w := window{panes: one(d, [2]int{2, 2}, [2]int{2, 2}, [2]int{3, 2}, [2]int{2, 3}), bar: d.in(30, 80),
		wide: d.in(220, 480), high: d.in(260, 560), sun: sun.at, disc: sun.size / sun.distance}
	w.out = vec{math.Cos(turned), math.Sin(turned), 0}
	w.side = vec{-w.out[1], w.out[0], 0}
	u := sun.at.unit()
	t := d.in(900, 2200) / u.dot(w.out)
	w.middle = vec{}.along(u, t)
	// The board's middle sees the sun near a bar.
	w.start = [2]float64{d.in(-0.5, 0.5) * w.wide, d.in(-0.5, 0.5) * w.high}
	return w
}

// open is the share of the sun that is seen from p through the window, its
// bars shifted.
func (w *window) open(p vec, shift [2]float64) float64 {
	to := w.sun.minus(p).unit()
	t := w.middle.minus(p).dot(w.out) / to.dot(w.out)
	if t <= 0 {
		return 1
	}
	q := p.along(to, t).minus(w.middle)
	soft := t * w.disc
	u, v := q.dot(w.side)+w.start[0]+shift[0], q[2]+w.start[1]+shift[1]
	return through(u, w.panes[0], w.wide, [2]float64{w.bar, soft}) * through(v, w.panes[1], w.high, [2]float64{w.bar, soft})
}

// through is how much of a soft point at x passes a row of n panes about 0;
// frame is the bars' width and the softness.
func through(x float64, n int, wide float64, frame [2]float64) float64 {
	bar, soft := frame[0], frame[1]
	pitch := wide + bar
	sum := 0.0
	for i := range n {
		c := (float64(i) - float64(n-1)/2) * pitch
		sum += clamp(0.5 + (wide/2-math.Abs(x-c))/soft)
	}
	return sum
}
