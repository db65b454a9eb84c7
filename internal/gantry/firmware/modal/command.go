// SPDX-License-Identifier: Apache-2.0

package modal

import "boardhand/internal/gantry/firmware/blocks"

// Kind is what the machine is told to do.
type Kind int

// The kinds of commands.
const (
	Move    Kind = iota // to To, at Feed
	Dwell               // Seconds, after all motion
	Spindle             // by the State, after all motion
	Coolant             // by the State, after all motion
	Pause               // M0, M1: until a cycle start
	End                 // M2, M30
	Store               // something goes to the lasting memory
)

// Command is one thing to do.
type Command struct {
	Kind    Kind
	To      blocks.Vector // machine, mm
	Feed    blocks.Feed   // mm/s
	Seconds float64
	Speed   float64 // of the spindle: below 0 counterclockwise, 0 stopped
	Flood   bool
}
