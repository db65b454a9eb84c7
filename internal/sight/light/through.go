// SPDX-License-Identifier: Apache-2.0

package light

import (
	"iter"
	"slices"

	"boardhand/internal/sight/pixels"
)

// seenThrough marks those of some cells in which what was there is seen through light that came
// on top, of whatever colour and with whatever structure of its own, or is seen again when such
// light has gone. Light on top changes how steep edges are, up to where the camera is at its upper
// end, but hardly which way they go; what covers the board has edges of its own. Asked are the
// cells about each, and all that hang together with it: a finger may cover an edge and follow it.
func (c *cells) seenThrough(now, then *pixels.Image, odd []bool, in pixels.Box) []bool {
	out, some := make([]bool, len(odd)), make([]bool, len(odd))
	for _, sign := range [2]float32{1, -1} {
		for k, is := range odd {
			some[k] = is && sign*c.change[0][k] > Changed
		}
		with, without := now, then
		if sign < 0 {
			with, without = then, now
		}
		alike, all := c.directions(with, without, some)
		near, around := make([]float32, len(odd)), make([]float32, len(odd))
		pixels.Smooth(near, alike, c.cols, in, throughAround)
		pixels.Smooth(around, all, c.cols, in, throughAround)
		for part := range c.parts(some) {
			if !isThrough(sumOver(alike, part), sumOver(all, part)) {
				continue
			}
			for _, k := range part {
				out[k] = out[k] || isThrough(near[k], around[k])
			}
		}
	}
	return out
}

// isThrough says whether enough of what was there goes the same way.
func isThrough(alike, all float32) bool { return all > 0 && alike > throughShare*all }

// parts are the connected parts of some cells.
func (c *cells) parts(some []bool) iter.Seq[[]int] {
	left := slices.Clone(some)
	take := func(k int) bool {
		is := left[k]
		left[k] = false
		return is
	}
	return func(yield func([]int) bool) {
		for start := range left {
			if !take(start) {
				continue
			}
			var part []int
			beside := func(k int) iter.Seq[int] { return pixels.Around(k, 1, c.cols, c.rows) }
			pixels.Flood([]int{start}, beside, take, func(k int) bool {
				part = append(part, k)
				return true
			})
			if !yield(part) {
				return
			}
		}
	}
}

// sumOver is the sum of some values.
func sumOver(v []float32, of []int) (s float32) {
	for _, k := range of {
		s += v[k]
	}
	return s
}

// directions is how much of the slopes of one picture, in each of some cells, goes the same way in
// another: the sum of the slopes' parts along those of the other, and the sum of the slopes. A
// channel at the camera's upper end may be even there: such pixels are not asked.
func (c *cells) directions(with, without *pixels.Image, some []bool) (alike, all []float32) {
	g, h, w := with.Softened(), without.Softened(), with.W
	alike, all = make([]float32, len(some)), make([]float32, len(some))
	for k, is := range some {
		if !is {
			continue
		}
		for i := range c.box(k).Each(w) {
			if x, y := i%w, i/w; x == 0 || y == 0 || x == w-1 || y == with.H-1 {
				continue
			}
			gx, gy, hx, hy := g[i+1]-g[i-1], g[i+w]-g[i-w], h[i+1]-h[i-1], h[i+w]-h[i-w]
			n, m := with.Noise[i], without.Noise[i]
			g2, h2, noise := gx*gx+gy*gy, hx*hx+hy*hy, slopeNoise*n*n
			if h2 < Structured*slopeNoise*m*m || g2 < Structured*noise && isFull(with, i) {
				continue
			}
			alike[k] += (gx*hx + gy*hy) / root(g2+noise)
			all[k] += root(h2)
		}
	}
	return alike, all
}

// isFull says whether a channel of a pixel is at the camera's upper end.
func isFull(p *pixels.Image, i int) bool {
	green := p.L[i] - (p.A[i]+p.B[i])/3
	return max(green, green+p.A[i], green+p.B[i]) > pixels.Saturated
}
