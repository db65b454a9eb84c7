// SPDX-License-Identifier: Apache-2.0

package journal

import (
	"boardhand/internal/chess"
	"boardhand/internal/table/places"
)

// Past is how an earlier session left a game.
type Past struct {
	Game     *chess.Game
	Decided  chess.Move       // chosen but perhaps not carried out; zero if none
	Task     Task             // begun and not ended
	Standing *places.Standing // nil: nobody is beside the board
	Symptoms Symptoms         // all that were kept
	Strength string           // how strongly the machine was to play; "": nothing is kept of it
}
