// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// Misfit is a run of pictures that the position does not explain, or that all show a hand.
type Misfit struct {
	Frame    string         // the newest
	Pictures int            // in a row
	Squares  []chess.Square // on which the newest differs
	IsHand   bool           // they show a hand
}

// misfits counts the pictures in a row that the position does not explain, and those that show a
// hand. They are told of once.
type misfits struct {
	pictures, hands int
	isTold          bool
}

// count notes one more picture; true when it is time to tell. What a person
// said of it explains it.
func (s *misfits) count(r sight.Reading, told bool) (Misfit, bool) {
	if r.State != sight.Hand {
		s.hands = 0
	}
	switch {
	case told || r.State == sight.Same || r.State == sight.Moved, r.State == sight.Several:
		*s = misfits{}
		return Misfit{}, false
	case r.State == sight.Hand:
		s.hands++
		return Misfit{Pictures: s.hands, Squares: r.Squares, IsHand: true}, s.hands == restingPictures
	}
	if s.pictures++; s.pictures < stuckPictures || s.isTold {
		return Misfit{}, false
	}
	s.isTold = true
	return Misfit{Pictures: s.pictures, Squares: r.Squares}, true
}
