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
