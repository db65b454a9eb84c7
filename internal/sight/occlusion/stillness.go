// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"slices"

	"boardhand/internal/sight/scene"
)

// IsStill says whether nothing on the board or its margin changed.
func IsStill(sc *scene.Scene, c *Comparison) bool {
	odd := Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	least := c.NoiseDepth()
	for k := range odd.On {
		odd.On[k] = (c.Depth[k] > least || c.Tinted(k)) && sc.Zone(c.Middle(k)) != scene.Beside && c.isUnlike(k)
	}
	most := StillMost * sc.Setup.Square * sc.Setup.Square * 1e6
	return !slices.ContainsFunc(components(sc, odd.Solid(), odd), func(p Occluder) bool { return p.Area > most })
}

// Changed is how much of the board with its margin looks otherwise, in squares.
func Changed(sc *scene.Scene, c *Comparison) float64 {
	n := 0.0
	for k := range c.Depth {
		if sc.Zone(c.Middle(k)) != scene.Beside && (c.Depth[k] > changedShade || c.Tint[k] > changedShade) {
			n += CellSide * CellSide
		}
	}
	return n * sc.Plane.Pitch * sc.Plane.Pitch / (sc.Setup.Square * sc.Setup.Square)
}

// LargestChange is the largest piece of the board with its margin that looks changed, in
// squares.
func LargestChange(sc *scene.Scene, c *Comparison) float64 {
	odd := Mask{Grid: c.Grid, On: make([]bool, c.Cols*c.Rows)}
	for k := range odd.On {
		odd.On[k] = sc.Zone(c.Middle(k)) != scene.Beside && c.isCovered(k, c.visibility(k))
	}
	most := 0.0
	for _, p := range components(sc, odd.Solid(), odd) {
		most = max(most, p.Area)
	}
	return most / (sc.Setup.Square * sc.Setup.Square * 1e6)
}
