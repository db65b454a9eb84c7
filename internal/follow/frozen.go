// SPDX-License-Identifier: Apache-2.0

package follow

import "bytes"

// repeats counts pictures in a row that are the same to the byte: a camera's noise
// lets no two be. They are told of once.
type repeats struct {
	last     []byte
	pictures int
	isTold   bool
}

// count notes one more picture; true when it is time to tell. Of one that came
// unpacked nothing can be said.
func (s *repeats) count(jpeg []byte) bool {
	if len(jpeg) == 0 || !bytes.Equal(jpeg, s.last) {
		*s = repeats{last: jpeg, pictures: 1}
		return false
	}
	if s.pictures++; s.pictures < frozenPictures || s.isTold {
		return false
	}
	s.isTold = true
	return true
}
