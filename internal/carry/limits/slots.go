// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// Slots are the centres of the rig's tray slots, none without trays: evenly
// along the edges beside the a and h files, first the a side from rank 1 up,
// then the h side.
func Slots(r *rig.Rig) []frame.Spot[frame.Board] {
	if r.Removal.Mode != "tray" {
		return nil
	}
	n := r.Removal.Slots
	field := float64(r.Board.Field())
	x := field/2 + float64(r.Removal.Gap)
	var out []spot
	for _, side := range [2]float64{-1, 1} {
		for k := range n {
			y := (float64(k)+0.5)/float64(n)*field - field/2
			out = append(out, spot{X: side * x, Y: y})
		}
	}
	return out
}

// SlotName is what slot k of n is called: from rank 1 up, L1, L2, … beside the
// a file and R1, R2, … beside the h file.
func SlotName(k, n int) string {
	if k < n/2 {
		return fmt.Sprintf("L%d", k+1)
	}
	return fmt.Sprintf("R%d", k-n/2+1)
}
