// SPDX-License-Identifier: Apache-2.0

package twin

import "boardhand/internal/twin/person"

// Saying is what the guest tells the machine without being asked.
type Saying = person.Saying

// The kinds of saying, named as the session names what a person may ask.
const (
	SaysPlayed = person.SaysPlayed // Move was played; zero: nothing was played
	SaysRight  = person.SaysRight  // what was asked for is done, and the board is as the game says
)
