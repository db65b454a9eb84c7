// SPDX-License-Identifier: Apache-2.0

package person

import (
	"math/rand/v2"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
)

// doer is what a person does with the hand, whatever is on their mind: the
// gestures that are to come, and the pieces that they are about.
type doer struct {
	world  World
	table  *physics.Table
	rig    *rig.Rig
	habits Habits
	chance *rand.Rand
	script script
	queue  queue // of a visitor
	hand   Hand
	stood  map[*physics.Piece]int   // places beside the board
	slot   *frame.Spot[frame.Board] // where in the tray the next piece taken is to stand
}

// Habits of a hand, in seconds and shares of a square: common practice, no source.
// The twin's people have hands of their own, on purpose: were they as exact as
// game.HandShare says, nobody would notice that planner and table believe it.
const (
	reachTime   = 0.55  // into or out of the picture
	fingersTime = 0.25  // down to a piece, or up again
	crossTime   = 0.6   // across the board
	putSigma    = 0.033 // standard deviation of where a piece is put down
	sloppySigma = 0.09  // the same of a careless hand
)
