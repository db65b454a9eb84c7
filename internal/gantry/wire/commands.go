// SPDX-License-Identifier: Apache-2.0

package wire

import (
	"bytes"
	"math/rand/v2"
	"slices"
	"time"
)

// Ill is what happens to a command on its way, or to its answer on the way back.
type Ill string

// The ills of a wire.
const (
	Late      Ill = "late"
	Lost      Ill = "lost"    // all of it, or a byte
	Doubled   Ill = "doubled" // all of it, or a byte
	Changed   Ill = "changed" // a bit of it
	Unplugged Ill = "unplugged"
)

// share is how many of twenty ills are of a kind: a plug is pulled more seldom than a
// byte is spoilt, and would hide what the others do. Chosen.
var shares = []struct {
	ill Ill
	of  int
}{{Late, 5}, {Lost, 5}, {Doubled, 4}, {Changed, 5}, {Unplugged, 1}}

// longestLate is the longest that something is late: above the two seconds that a driver
// waits for an answer, so that both sides of them come up. Doubled, most are above.
const longestLate = 2500 * time.Millisecond

// Commands makes commands ill at a rate. The same seed and the same commands give the
// same ills.
type Commands struct {
	rate   float64
	chance *rand.Rand
	count  map[Ill]int
	sent   int
	back   Ill // of the next answer
}

// NewCommands makes each command ill with a likelihood, or its answer.
func NewCommands(rate float64, seed uint64) *Commands {
	return &Commands{rate: rate, chance: rand.New(rand.NewPCG(seed, 3)), count: map[Ill]int{}}
}

// Sent is how many commands were sent.
func (c *Commands) Sent() int { return c.sent }

// Count is how many commands met each ill.
func (c *Commands) Count() map[Ill]int { return c.count }

// Command is what a command meets on its way; "": nothing. A plug is pulled when the
// command has not yet gone.
func (c *Commands) Command() Ill {
	c.sent++
	// The same draws for each command, so that the rate does not move the ills' kinds.
	is, k, isBack := c.chance.Float64() < c.rate, c.chance.IntN(20), c.chance.IntN(2) == 0
	if !is {
		return ""
	}
	i := 0
	for k -= shares[0].of; k >= 0; k -= shares[i].of {
		i++
	}
	ill := shares[i].ill
	c.count[ill]++
	if isBack && ill != Unplugged {
		c.back = ill
		return ""
	}
	return ill
}

// Answer is what an answer meets on its way back; "": nothing.
func (c *Commands) Answer() Ill {
	ill := c.back
	c.back = ""
	return ill
}

// Delay is how late something comes.
func (c *Commands) Delay() time.Duration {
	return time.Duration(c.chance.Float64() * float64(longestLate))
}

// Spoil is what arrives of bytes with an ill.
func (c *Commands) Spoil(p []byte, ill Ill) []byte {
	if len(p) == 0 {
		return nil
	}
	k, isWhole := c.chance.IntN(len(p)), c.chance.IntN(2) == 0
	switch {
	case ill == Lost && isWhole:
		return nil
	case ill == Lost:
		return slices.Concat(p[:k], p[k+1:])
	case ill == Doubled && isWhole:
		return slices.Concat(p, p)
	case ill == Doubled:
		return slices.Concat(p[:k+1], p[k:])
	case ill == Changed:
		out := bytes.Clone(p)
		out[k] ^= 1 << c.chance.IntN(8)
		return out
	}
	return p
}
