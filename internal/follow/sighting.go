// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
)

// Sighting is what was made of one picture.
type Sighting struct {
	Picture   photo.Picture
	Reading   sight.Reading
	Before    chess.Position // in which the picture was read
	After     chess.Position // with what was read or said
	Answered  Answer         // what the person said of it, where that was needed
	TakenBack int            // plies that the person said were taken back before it
	IsSetUp   bool           // the person said that a position was set up before it
}
