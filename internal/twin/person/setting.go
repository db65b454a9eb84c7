// SPDX-License-Identifier: Apache-2.0

package person

import (
	"math/rand/v2"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
)

// Setting is who sits where.
type Setting struct {
	Rig    *rig.Rig
	Table  *physics.Table
	World  World
	Game   chess.Position // as the person hears of it
	Habits Habits
}

// World is what a person at the table needs of the rest of it.
type World interface {
	Pass(seconds float64) // lets world time go by
	Keep()                // is told that something stands elsewhere now
}

// Habits are how a person behaves. A stream of chance that is nil means never.
type Habits struct {
	IsVisitor     bool       // moves pieces only when told to, by somebody at a screen
	IsSloppy      bool       // puts pieces down carelessly and sets them straight later
	IsLawless     bool       // sometimes makes a move that no rule allows
	IsInterrupted bool       // takes the hand away in the middle of a move
	IsFickle      bool       // now and then wishes a move taken back
	Chance        *rand.Rand // of all that a guest does
	Hasty         *rand.Rand // of one who touches a piece or plays while the carriage moves
	Thief         *rand.Rand // of one who takes pieces out of tray slots, or swaps them
}
