// SPDX-License-Identifier: Apache-2.0

package view

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/evidence"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
)

// InspectSlots brings the pieces in the tray in step with the last picture. A
// piece that somebody took out of its slot is with a person and is asked for, one
// that moved to another slot stands there. One that was pushed out of it stands
// askew with a person; beside a neighbour it is not asked for: no hand can set it
// straight while both are so wide.
func (v *View) InspectSlots() {
	missing, pushed := v.outOfSlots()
	for _, m := range pushed {
		if v.hasNeighbour(m.Place) {
			v.model.Narrow = true
		} else {
			v.model.Taken = append(v.model.Taken, m)
		}
	}
	for _, m := range pushed {
		v.model.Move(m.Piece, m.Place, places.Person)
	}
	if len(missing) == 0 && !v.model.Narrow {
		return
	}
	found := v.unknownInSlots()
	for _, m := range missing {
		to := places.Person
		if len(missing) == 1 && len(found) == 1 && len(pushed) == 0 && !v.model.Narrow && found[0].side == m.Piece.Color() {
			to = found[0].at
		}
		v.model.Move(m.Piece, m.Place, to)
		if to == places.Person {
			v.model.Taken = append(v.model.Taken, m)
		}
	}
	v.model.Askew = nil
	for _, o := range found {
		if v.model.Narrow {
			v.model.Askew = append(v.model.Askew, o.stands)
		}
	}
}

// Believe leaves a piece that a guest was to stand in a slot with them where the
// picture shows the slot and not plainly the piece in it.
func (v *View) Believe(offered places.Place) {
	at, ok := v.model.Layout.SpotOf(offered)
	if !ok || offered < places.Slot {
		return
	}
	i := slices.IndexFunc(v.model.Now.Beside, func(b places.Beside) bool { return b.Place == offered })
	if i < 0 {
		return
	}
	b := v.model.Now.Beside[i]
	if p := v.presentAt(at); p.Open && !(evidence.IsTaken(p) && evidence.IsOf(p, b.Piece)) {
		v.model.Move(b.Piece, offered, places.Person)
	}
}

// outOfSlots lists the pieces that should stand in slots and are not seen there,
// and those that stand beside the middle of theirs.
func (v *View) outOfSlots() (missing, pushed []places.Beside) {
	for _, b := range v.model.Now.Beside {
		at, ok := v.model.Layout.SpotOf(b.Place)
		if !ok || b.Place < places.Slot || v.model.Vouched[b.Place] {
			continue
		}
		switch p := v.presentAt(at); {
		case v.isPushedOut(p, b):
			pushed = append(pushed, b)
		case evidence.IsVacant(p, b.Piece):
			missing = append(missing, b)
		}
	}
	return missing, pushed
}

// hasNeighbour says whether a piece should stand in a slot next to one, or is seen
// askew there.
func (v *View) hasNeighbour(of places.Place) bool {
	l := v.model.Layout
	at, _ := l.SpotOf(of)
	isNear := func(s frame.Spot[frame.Board]) bool {
		return s.Distance(at) > l.Pitch()/2 && s.Distance(at) < model.ElbowRoom*l.Pitch()
	}
	return slices.ContainsFunc(v.model.Askew, isNear) || slices.ContainsFunc(v.model.Now.Beside, func(b places.Beside) bool {
		s, ok := l.SpotOf(b.Place)
		return ok && isNear(s)
	})
}

// StandsAskew says whether a piece is seen beside the middle of a slot.
func (v *View) StandsAskew(piece chess.Piece, in places.Place) bool {
	at, ok := v.model.Layout.SpotOf(in)
	return ok && v.isPushedOut(v.presentAt(at), places.Beside{Piece: piece, Place: in})
}

// isPushedOut says whether a piece plainly stands beside the middle of its slot,
// where the machine would not grip it.
func (v *View) isPushedOut(p sight.Presence, b places.Beside) bool {
	return evidence.IsTaken(p) && evidence.IsOf(p, b.Piece) && p.Found.Distance(p.At)-p.Sigma > v.model.Layout.Room(b.Place)
}

// occupant is a piece in a slot that should be empty.
type occupant struct {
	at     places.Place
	stands frame.Spot[frame.Board]
	side   chess.Color
}

// unknownInSlots lists the slots in which a piece is seen that nobody knows of.
func (v *View) unknownInSlots() (out []occupant) {
	held := map[places.Place]bool{}
	for _, b := range v.model.Now.Beside {
		held[b.Place] = true
	}
	for k, p := range v.Witness.Present(v.model.Layout.Slots) {
		if at := places.Slot + places.Place(k); !held[at] && evidence.IsTaken(p) {
			out = append(out, occupant{at, p.Found, p.Side})
		}
	}
	return out
}
