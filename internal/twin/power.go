// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"math/rand/v2"
	"sync/atomic"
)

// power is the machine's supply.
type power struct {
	chance *rand.Rand   // whether a lift without power drops
	times  atomic.Int32 // how often it has gone
	isGone atomic.Bool  // and has just done so
	left   float64      // s of motion until it goes; 0: it stays
}

// pass lets time of motion go by.
func (p *power) pass(t float64) {
	if p.left <= 0 {
		return
	}
	if p.left -= t; p.left <= 0 {
		p.isGone.Store(true)
	}
}
