// SPDX-License-Identifier: Apache-2.0

package journal

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// mostThinking bounds what may be asked for as thinking time. Reasoned: no game over a
// board waits an hour for a move; the pages ask for less. Doubled, a slip of the hand
// makes people wait twice as long before they ask for another time.
const mostThinking = time.Hour

// mostPlies bounds what may be taken back at once: one move of each side. It is what
// people take back; doubled, kept tasks of such a kind could not be read by older
// versions.
const mostPlies = 2
