// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"fmt"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// Misplaced lists the slots that do not hold the piece the game has in them.
func Misplaced(truth twin.Truth, s places.Standing, slots []frame.Spot[frame.Board]) (out []string) {
	for _, b := range s.Beside {
		k := int(b.Place - places.Slot)
		if k < 0 || k >= len(slots) || b.Piece == truth.InHand {
			continue
		}
		off, where := nearest(truth, b.Piece, slots[k]), "none is on the table"
		if off < inSlot {
			continue
		}
		if !math.IsInf(off, 1) {
			where = fmt.Sprintf("the nearest is %.1f mm off", off*1e3)
		}
		out = append(out, fmt.Sprintf("no %v stands in %s: %s", b.Piece, b.Place.Words(len(slots)), where))
	}
	return out
}

// nearest is how far from a slot the nearest such piece stands, m; without any
// it is endlessly far.
func nearest(truth twin.Truth, p chess.Piece, slot frame.Spot[frame.Board]) float64 {
	off := math.Inf(1)
	for _, m := range truth.Pieces {
		if m.Piece == p && m.OnBoard {
			off = min(off, m.At.Distance(slot))
		}
	}
	return off
}
