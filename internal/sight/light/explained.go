// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Explained takes those cells out of some whose look light alone explains: the structure is the
// one that was there, however faint; or, among such cells, the camera is at its upper end, or
// light of no colour of its own came on top; or was so then, and is gone; or what was there is seen
// through light on top that has a structure of its own.
func Explained(now, then *pixels.Image, odd []bool) {
	in := around(odd, wholeOf(now), votersAround+neighbourhood)
	c := newCells(now, now, then, in)
	votes, voted := make([]float32, len(odd)), make([]float32, len(odd))
	for k := range in.Each(c.cols) {
		switch {
		case c.likeness[k] > surelyAlike:
			votes[k] = 1
		case c.weight[k] == weighUnlike:
			votes[k] = -1
		}
	}
	pixels.Smooth(voted, votes, c.cols, in, votersAround)
	through := c.seenThrough(now, then, odd, in)
	for k, is := range odd {
		odd[k] = is && !(through[k] || votes[k] > 0 || voted[k] > 0 && (c.change[0][k] > Changed && c.isReflection(k, now, then) ||
			c.change[0][k] < -Changed && c.isReflection(k, then, now)))
	}
}

// around is the box of all marked cells with so many around them, within a box of all.
func around(marked []bool, all pixels.Box, n int) pixels.Box {
	b := pixels.Box{X0: all.X1, Y0: all.Y1}
	for k, is := range marked {
		if x, y := k%all.X1, k/all.X1; is {
			b = pixels.Box{X0: min(b.X0, x-n), Y0: min(b.Y0, y-n), X1: max(b.X1, x+n+1), Y1: max(b.Y1, y+n+1)}
		}
	}
	return pixels.Box{X0: max(b.X0, 0), Y0: max(b.Y0, 0), X1: min(b.X1, all.X1), Y1: min(b.Y1, all.Y1)}
}

// isReflection says whether a cell of a picture may show what another shows there, with a
// lamp's reflection on it: the camera is at its upper end, or grey light came on top.
func (c *cells) isReflection(k int, with, without *pixels.Image) bool {
	var full float32
	var added [3]float32
	for i := range c.box(k).Each(with.W) {
		if with.L[i] > pixels.Saturated {
			full += share
		}
		a, b := with.Levels(i), without.Levels(i)
		for j := range added {
			added[j] += share * (a[j] - b[j])
		}
	}
	i := (k/c.cols*CellSide+CellSide/2)*with.W + k%c.cols*CellSide + CellSide/2
	grey := (added[0] + added[1] + added[2]) / 3
	var was, is [3]float64
	for j, v := range without.Levels(i) {
		was[j] = math.Log(float64(max(0, v) + grey + pixels.Black))
		is[j] = math.Log(float64(max(0, v+added[j]) + pixels.Black))
	}
	a := (is[0] - is[1]) - (was[0] - was[1])
	b := (is[2] - is[1]) - (was[2] - was[1])
	return full > 0.5 || math.Abs(a)+math.Abs(b) < Tint
}
