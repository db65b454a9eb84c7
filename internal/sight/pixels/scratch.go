// SPDX-License-Identifier: Apache-2.0

package pixels

import "sync"

// Scratch is room for numbers of one picture that nobody keeps.
type Scratch struct{ V []float32 }

var scratches = sync.Pool{New: func() any { return new(Scratch) }}

// Borrow gives room for n numbers, with whatever is in it.
func Borrow(n int) *Scratch {
	s := scratches.Get().(*Scratch)
	if cap(s.V) < n {
		s.V = make([]float32, n)
	}
	s.V = s.V[:n]
	return s
}

// Return gives the room back: nobody may use it any more.
func (s *Scratch) Return() { scratches.Put(s) }
