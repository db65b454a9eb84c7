// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"fmt"
	"time"
)

// Limits bound one thought; a zero field does not.
type Limits struct {
	Time  time.Duration
	Depth int
	Nodes uint64
}

// command is what starts the thought.
func (l Limits) command() string {
	s := "go"
	if l.Time > 0 {
		s += fmt.Sprintf(" movetime %d", max(1, l.Time.Milliseconds()))
	}
	if l.Depth > 0 {
		s += fmt.Sprintf(" depth %d", l.Depth)
	}
	if l.Nodes > 0 {
		s += fmt.Sprintf(" nodes %d", l.Nodes)
	}
	return s
}

// isPassed says whether the player tells that it is well past what it was
// asked for: not every player knows every limit. depthOver and nodesOver are left to it.
func (l Limits) isPassed(t Thought) bool {
	return l.Depth > 0 && t.Depth > l.Depth+depthOver || l.Nodes > 0 && t.Nodes/nodesOver > l.Nodes
}
