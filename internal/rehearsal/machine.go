// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"boardhand/internal/chess"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// World is the simulated table as a referee sees it.
type World interface {
	// Truth is what truly stands there, and what has gone wrong so far.
	Truth() twin.Truth
	// PowerCut cuts the machine's power now.
	PowerCut()
	// PowerCutAfter cuts it when so many seconds of motion have passed.
	PowerCutAfter(seconds float64)
}

// Guest is the simulated guest, who may say something unasked.
type Guest interface {
	table.Guest
	// SecondThoughts is how many plies the guest wishes to take back now.
	SecondThoughts() int
	// Says is what the guest says now; false for nothing.
	Says() (twin.Saying, bool)
}

// Machine is what plays a rehearsal, put together around its world.
type Machine struct {
	World    World
	Guest    Guest
	Settings table.Settings // with the suspects of the first session
	// Connect gives the parts of a session, without guest and log; it is asked
	// anew after each power cut.
	Connect func() table.Parts
	// Restart is a program beginning anew: its reader knows the position and
	// nothing else, and the suspects it returns know nothing yet.
	Restart func(chess.Position) (*table.Suspects, error)
	// Driven is the simulated controller that turns the motors; nil: the twin's own.
	Driven *Driven
}
