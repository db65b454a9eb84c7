// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"boardhand/internal/bond"
	"boardhand/internal/unit"
)

// Inside is how long the walls are inside, along x and along y.
func (w Walls) Inside() [2]unit.Length { return [2]unit.Length{w.Left + w.Right, w.Front + w.Back} }

// units is how many units thick walls of elements are: one where thick is 8 mm, else two.
func (w Walls) units() int {
	if bond.Units(w.Thick) == 1 && w.Thick > bond.Pitch*3/4 {
		return 1
	}
	return 2
}

// Depth is how thick the walls are: elements have their own thickness.
func (w Walls) Depth() unit.Length {
	if w.Material == "brick" {
		return unit.Length(w.units()) * bond.Pitch
	}
	return w.Thick
}

// Ring is the walls as courses of modular elements of some lengths, on the 8 mm grid:
// two units thick, or one where thick is 8 mm. Inside lengths off the grid become
// longer. Without lengths, the common ones are laid.
func (w Walls) Ring(lengths []bond.Length) (bond.Ring, error) {
	if lengths == nil {
		lengths = bond.Common
	}
	wall := bond.Wall{Thick: w.units()}
	for i, l := range w.Inside() {
		wall.Inside[i] = bond.Units(l)
	}
	wall.Full, wall.Plates = bond.Heights(w.Height)
	return bond.Lay(wall, lengths)
}
