// SPDX-License-Identifier: Apache-2.0

package view

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/evidence"
	"boardhand/internal/table/places"
)

// InspectSlots brings the pieces in the tray in step with the last picture: a
// piece that somebody took out of its slot, or that was pushed half out of it, is
// with a person, one that moved to another slot stands there.
func (v *View) InspectSlots() {
	if len(v.model.Layout.Slots) == 0 {
		return
	}
	var missing []places.Beside
	for _, b := range v.model.Now.Beside {
		at, ok := v.model.Layout.SpotOf(b.Place)
		if !ok || b.Place < places.Slot {
			continue
		}
		p := v.Witness.Present([]frame.Spot[frame.Board]{at})[0]
		if v.model.Vouched[b.Place] {
			continue
		}
		if v.isPushedOut(p, b) {
			v.model.Narrow = true
		} else if !evidence.IsVacant(p, b.Piece) {
			continue
		}
		missing = append(missing, b)
	}
	if len(missing) == 0 {
		return
	}
	found := v.unknownInSlots()
	for _, m := range missing {
		to := places.Person
		if len(missing) == 1 && len(found) == 1 && found[0].side == m.Piece.Color() {
			to = found[0].at
		}
		v.model.Move(m.Piece, m.Place, to)
		if to == places.Person {
			v.model.Taken = append(v.model.Taken, m)
		}
	}
}

// isPushedOut says whether a piece plainly stands beside the middle of its slot,
// where the machine would not grip it.
func (v *View) isPushedOut(p sight.Presence, b places.Beside) bool {
	return evidence.IsTaken(p) && evidence.IsOf(p, b.Piece) && p.Found.Distance(p.At)-p.Sigma > v.model.Layout.Room(b.Place)
}

// occupant is a piece in a slot that should be empty.
type occupant struct {
	at   places.Place
	side chess.Color
}

// unknownInSlots lists the slots in which a piece is seen that nobody knows of.
func (v *View) unknownInSlots() (out []occupant) {
	held := map[places.Place]bool{}
	for _, b := range v.model.Now.Beside {
		held[b.Place] = true
	}
	for k, p := range v.Witness.Present(v.model.Layout.Slots) {
		if at := places.Slot + places.Place(k); !held[at] && evidence.IsTaken(p) {
			out = append(out, occupant{at, p.Side})
		}
	}
	return out
}
