// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"boardhand/internal/bond"
	"boardhand/internal/unit"
)

// Inside is how long the walls are inside, along x and along y.
func (w Walls) Inside() [2]unit.Length { return [2]unit.Length{w.Left + w.Right, w.Front + w.Back} }

// Ring is the walls as courses of modular elements of some lengths, on the 8 mm grid:
// two units thick, or one where thick is 8 mm. Inside lengths off the grid become
// longer. Without lengths, the common ones are laid.
func (w Walls) Ring(lengths []bond.Length) (bond.Ring, error) {
	if lengths == nil {
		lengths = bond.Common
	}
	wall := bond.Wall{Thick: 2}
	if bond.Units(w.Thick) == 1 && w.Thick > bond.Pitch*3/4 {
		wall.Thick = 1
	}
	for i, l := range w.Inside() {
		wall.Inside[i] = bond.Units(l)
	}
	wall.Full, wall.Plates = bond.Heights(w.Height)
	return bond.Lay(wall, lengths)
}
