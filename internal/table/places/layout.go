// SPDX-License-Identifier: Apache-2.0

package places

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// Layout is where the places of one machine are.
type Layout struct {
	Square unit.Length
	Slots  []frame.Spot[frame.Board] // the tray's
	Chute  *frame.Spot[frame.Board]  // its mouth; nil: there is none
}

// Room is how far from the middle of a place a piece may stand and still be
// where it belongs, metres.
func (l Layout) Room(p Place) float64 {
	if p < Slot {
		return ArriveWithin * float64(l.Square)
	}
	room, at := Coped*float64(l.Square), l.Slots[p-Slot]
	for k, next := range l.Slots {
		if Slot+Place(k) != p {
			room = min(room, slotPart*next.Distance(at))
		}
	}
	return room
}

// Pitch is the least distance between the middles of two slots, metres; 0 where
// there are not two.
func (l Layout) Pitch() float64 {
	pitch := math.Inf(1)
	for k, at := range l.Slots {
		for _, next := range l.Slots[:k] {
			pitch = min(pitch, next.Distance(at))
		}
	}
	if len(l.Slots) < 2 {
		return 0
	}
	return pitch
}

// SpotOf is the centre of a place on or beside the board; false for a place
// that no picture can show.
func (l Layout) SpotOf(p Place) (frame.Spot[frame.Board], bool) {
	switch k := int(p - Slot); {
	case p >= 0 && p < Slot:
		return l.Centre(chess.Square(p)), true
	case k >= 0 && k < len(l.Slots):
		return l.Slots[k], true
	}
	return frame.Spot[frame.Board]{}, false
}

// GoalOf is where a piece is carried to: spotOf, or the chute's mouth.
func (l Layout) GoalOf(p Place) (frame.Spot[frame.Board], bool) {
	if p == Chute && l.Chute != nil {
		return *l.Chute, true
	}
	return l.SpotOf(p)
}

// PlaceOf is the place where a step picks its piece up or puts it down.
func (l Layout) PlaceOf(q chess.Square, at frame.Spot[frame.Board]) Place {
	if q < chess.NoSquare {
		return Place(q)
	}
	for k, s := range l.Slots {
		if s.Distance(at) < SlotReach {
			return Slot + Place(k)
		}
	}
	if len(l.Slots) == 0 {
		return Chute
	}
	return Person
}

// field is the board that chess is played on, in squares.
var field = game.Board{Files: 8, Ranks: 8, Square: 1}

// Centre is the middle of a square, board frame.
func (l Layout) Centre(q chess.Square) frame.Spot[frame.Board] {
	b := field
	b.Square = float64(l.Square)
	return b.Centre(q)
}

// SlotAway is how far slot k is from a square, m.
func (l Layout) SlotAway(k int, q chess.Square) float64 {
	if k < 0 || k >= len(l.Slots) {
		return math.Inf(1)
	}
	return l.Slots[k].Distance(l.Centre(q))
}

// Words names a place as the page and the drawing do.
func (l Layout) Words(p Place) string { return p.Words(len(l.Slots)) }
