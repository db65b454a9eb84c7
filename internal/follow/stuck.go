// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// Misfit is a run of pictures that the position does not explain.
type Misfit struct {
	Frame    string         // the newest
	Pictures int            // in a row
	Squares  []chess.Square // on which the newest differs
}

// misfits counts the pictures in a row that the position does not explain. They
// are told of once.
type misfits struct {
	pictures int
	isTold   bool
}

// count notes one more picture; true when it is time to tell. What a person
// said of it explains it.
func (s *misfits) count(r sight.Reading, told bool) (Misfit, bool) {
	switch {
	case told || r.State == sight.Same || r.State == sight.Moved, r.State == sight.Several:
		*s = misfits{}
		return Misfit{}, false
	case r.State == sight.Hand:
		return Misfit{}, false
	}
	if s.pictures++; s.pictures < stuckPictures || s.isTold {
		return Misfit{}, false
	}
	s.isTold = true
	return Misfit{Pictures: s.pictures, Squares: r.Squares}, true
}
