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
// straight while both are so wide. Nor is one asked for again that came there by a
// person's word: it is out of its slot all the same, which is shunned from then on.
func (v *View) InspectSlots() {
	missing, pushed, strayed := v.outOfSlots()
	for _, m := range pushed {
		if v.hasNeighbour(m.Place) {
			v.model.Narrow = true
		} else {
			v.model.Taken = append(v.model.Taken, m)
		}
	}
	for _, m := range strayed {
		v.model.Shun(m.Place)
	}
	for _, m := range slices.Concat(pushed, strayed) {
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
// those that stand beside the middle of theirs, and those of both that came there
// by a person's word. That word counts until the piece is seen in its slot.
func (v *View) outOfSlots() (missing, pushed, strayed []places.Beside) {
	for _, b := range v.model.Now.Beside {
		at, ok := v.model.Layout.SpotOf(b.Place)
		if !ok || b.Place < places.Slot {
			continue
		}
		p := v.presentAt(at)
		isPushed, isVacant := v.isPushedOut(p, b), evidence.IsVacant(p, b.Piece)
		switch {
		case (isPushed || isVacant) && v.model.Vouched[b.Place]:
			strayed = append(strayed, b)
		case isPushed:
			pushed = append(pushed, b)
		case isVacant:
			missing = append(missing, b)
		case evidence.IsTaken(p) && evidence.IsOf(p, b.Piece):
			delete(v.model.Vouched, b.Place)
		}
	}
	return missing, pushed, strayed
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

// MayStandIn says whether a piece may stand in the middle of a slot: the picture shows
// it neither beside that nor the slot plainly empty.
func (v *View) MayStandIn(piece chess.Piece, in places.Place) bool {
	at, ok := v.model.Layout.SpotOf(in)
	if !ok {
		return true
	}
	p := v.presentAt(at)
	return !v.isPushedOut(p, places.Beside{Piece: piece, Place: in}) && !evidence.IsVacant(p, piece)
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
