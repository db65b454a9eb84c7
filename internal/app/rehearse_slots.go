package app

import (
	"fmt"
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// misplaced lists the slots that do not hold the piece the game has in them.
func misplaced(truth twin.Truth, s table.Standing, slots []frame.Spot[frame.Board]) (out []string) {
	for _, b := range s.Beside {
		k := int(b.Place - table.Slot)
		if k >= 0 && k < len(slots) && b.Piece != truth.InHand && !stands(truth, b.Piece, slots[k]) {
			out = append(out, fmt.Sprintf("no %v stands in slot %s%s", b.Piece, carry.SlotName(k, len(slots)), nearest(truth, b.Piece, slots[k])))
		}
	}
	return out
}

// stands says whether a man stands in a slot: no farther off than half a foot.
func stands(truth twin.Truth, p chess.Piece, slot frame.Spot[frame.Board]) bool {
	const off = 0.006
	for _, m := range truth.Men {
		if m.Piece == p && m.OnBoard && m.At.Distance(slot) < off {
			return true
		}
	}
	return false
}

// nearest says how far from a slot the nearest such piece stands.
func nearest(truth twin.Truth, p chess.Piece, slot frame.Spot[frame.Board]) string {
	off := math.Inf(1)
	for _, m := range truth.Men {
		if m.Piece == p && m.OnBoard {
			off = min(off, m.At.Distance(slot))
		}
	}
	if math.IsInf(off, 1) {
		return ": none is on the table"
	}
	return fmt.Sprintf(": the nearest is %.1f mm off", off*1e3)
}
