// SPDX-License-Identifier: Apache-2.0

package lens

import "math/rand/v2"

// shutter is what goes wrong between the sensor and whoever reads it: pictures
// that never come, and a camera that delivers the last one again.
type shutter struct {
	losing, freezing *rand.Rand // nil: never
	lost, frozen     int        // pictures still to go wrong
	last             *Picture
}

// loses says whether the next picture does not come.
func (s *shutter) loses() bool {
	if s.losing == nil {
		return false
	}
	if s.lost == 0 && s.losing.Float64() < lostChance {
		s.lost = 1 + s.losing.IntN(lostMost)
	}
	if s.lost == 0 {
		return false
	}
	s.lost--
	return true
}

// freezes says whether the next picture is the last one again.
func (s *shutter) freezes() bool {
	if s.freezing == nil {
		return false
	}
	if s.frozen == 0 && s.freezing.Float64() < frozenChance {
		s.frozen = frozenLeast + s.freezing.IntN(frozenMost-frozenLeast+1)
	}
	if s.frozen == 0 {
		return false
	}
	s.frozen--
	return true
}
