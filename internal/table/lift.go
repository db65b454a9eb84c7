// SPDX-License-Identifier: Apache-2.0

package table

// Lift says where the magnet is.
type Lift string

// The states of the lift. Homing and the end of a session lower it.
const (
	Lowered Lift = "lowered" // by the full drop: no piece feels it
	Raised  Lift = "raised"  // at the board
)

// claim is what the standing of the pieces rests on.
type claim string

// The states of what is claimed of the board.
const (
	known    claim = "known"    // on what the machine did or saw
	promised claim = "promised" // a person was asked for it; until it is seen to be done it is neither kept nor shown
)
