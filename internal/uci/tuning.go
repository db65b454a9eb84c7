// SPDX-License-Identifier: Apache-2.0

package uci

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// The usual patience. A slow card of a small board takes ten seconds and more
// to load a large network; a busy one keeps a program waiting for seconds. Doubled, a
// table waits twice as long for a player that hangs before the built-in one goes on.
const (
	startTime = 30 * time.Second
	graceTime = 5 * time.Second
	quitTime  = 5 * time.Second
)

// depthOver is how many plies more than asked a player may tell of, and nodesOver how
// many times the nodes: a ply begun, and a count that is looked at now and then.
// Reasoned; doubled, one that knows no such limit thinks on longer.
const depthOver, nodesOver = 1, 2

// What is kept of a program's error output: what fits a message.
const (
	tailLines   = 4
	tailLetters = 120 // of each line
)

// shortText is how many letters of another program's words are shown.
const shortText = 60

// longLine is the most bytes of a line: a longer one is not the protocol.
const longLine = 1 << 20
