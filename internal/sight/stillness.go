// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/occlusion"
	"slices"
)

// stillMost is how much may look changed in one piece, as a share of a square,
// where nothing was: the coding of a noisy picture invents structure of that
// size, a hand that moves changes several times as much.
const stillMost = 0.25

// alike says whether nothing on the board or its margin changed.
func alike(sc *scene, c *occlusion.Comparison) bool {
	odd := occlusion.Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	least := c.NoiseDepth()
	for k, is := range c.Unlike() {
		odd.On[k] = is && sc.zone(c.Middle(k)) != beside && (c.Depth[k] > least || c.Tinted(k))
	}
	most := stillMost * sc.setup.Square * sc.setup.Square * 1e6
	return !slices.ContainsFunc(blobs(sc, odd.Solid(), odd), func(p occluder) bool { return p.area > most })
}

// changedShade is the change of the logarithm of brightness or colour from which a cell
// looks otherwise.
const changedShade = 0.08

// changes is how much of the board with its margin looks otherwise, in squares.
func changes(sc *scene, c *occlusion.Comparison) float64 {
	n := 0.0
	for k := range c.Depth {
		if sc.zone(c.Middle(k)) != beside && (c.Depth[k] > changedShade || c.Tint[k] > changedShade) {
			n += occlusion.CellSide * occlusion.CellSide
		}
	}
	return n * sc.ground.Pitch * sc.ground.Pitch / (sc.setup.Square * sc.setup.Square)
}

// stirs is the largest piece of the board with its margin that looks changed, in
// squares.
func stirs(sc *scene, c *occlusion.Comparison) float64 {
	odd := occlusion.Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	for k, s := range c.Judge() {
		odd.On[k] = sc.zone(c.Middle(k)) != beside && c.Covered(k, s)
	}
	most := 0.0
	for _, p := range blobs(sc, odd.Solid(), odd) {
		most = max(most, p.area)
	}
	return most / (sc.setup.Square * sc.setup.Square * 1e6)
}
