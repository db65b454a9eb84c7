// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Explained lists the cells whose look light alone explains: the structure is the one that
// was there, however faint; or, among such cells, the camera is at its upper end, or light
// of no colour of its own came on top; or was so then, and is gone.
func Explained(now, then *pixels.Image) []bool {
	c, back := newCells(now, now, then), newCells(then, then, now)
	n := len(c.full)
	votes, around := make([]float32, n), make([]float32, n)
	for k := range votes {
		switch {
		case c.likeness[k] > surelyAlike:
			votes[k] = 1
		case c.weight[k] == weighUnlike:
			votes[k] = -1
		}
	}
	pixels.Smooth(around, votes, c.cols, pixels.Box{X0: 0, Y0: 0, X1: c.cols, Y1: c.rows}, votersAround)
	out := make([]bool, n)
	for k := range out {
		out[k] = votes[k] > 0 || around[k] > 0 && (c.isReflection(k, then) || back.isReflection(k, now))
	}
	return out
}

// isReflection says whether a cell may show what was there with a lamp's reflection on it.
func (c *cells) isReflection(k int, then *pixels.Image) bool {
	return c.change[0][k] > changed && (c.full[k] > 0.5 || c.isVeiled(k, then))
}

// isVeiled says whether a cell shows the colour that was there with grey light on top.
func (c *cells) isVeiled(k int, then *pixels.Image) bool {
	i := (k/c.cols*CellSide+CellSide/2)*then.W + k%c.cols*CellSide + CellSide/2
	l := then.Levels(i)
	grey := (c.added[0][k] + c.added[1][k] + c.added[2][k]) / 3
	var was, is [3]float64
	for j, v := range l {
		was[j] = math.Log(float64(max(0, v) + grey + pixels.Black))
		is[j] = math.Log(float64(max(0, v+c.added[j][k]) + pixels.Black))
	}
	a := (is[0] - is[1]) - (was[0] - was[1])
	b := (is[2] - is[1]) - (was[2] - was[1])
	return math.Abs(a)+math.Abs(b) < veilTint
}
