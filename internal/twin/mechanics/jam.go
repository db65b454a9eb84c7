// SPDX-License-Identifier: Apache-2.0

package mechanics

import (
	"math"
	"math/rand/v2"
)

// jam is a lift that does not always do what it is told. Nothing reports it:
// its time passes as if it had moved.
type jam struct {
	up     bool // it catches on the way down now and then
	caught bool // it did so the last time
	chance *rand.Rand
	raises int // how often it still goes up
}

func newJam(staysUp, staysDown *rand.Rand) jam {
	j := jam{up: staysUp != nil, chance: staysUp, raises: math.MaxInt}
	if staysDown != nil {
		j.raises = LeastRaises + staysDown.IntN(MostRaises-LeastRaises+1)
	}
	return j
}

// Catches says whether the lift stays where it is this time.
func (c *Carriage) Catches(raised bool) bool {
	j := &c.jam
	if raised {
		if c.Lift > 0 {
			return false
		}
		j.raises--
		return j.raises < 0
	}
	j.caught = j.up && c.Lift > 0 && j.chance.Float64() < jamShare
	return j.caught
}

// IsCaught says whether the lift caught when it was last told to go down.
func (c *Carriage) IsCaught() bool { return c.jam.caught }
