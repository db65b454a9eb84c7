// SPDX-License-Identifier: Apache-2.0

package terminal

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// mostLines is how many lines wait for a terminal that is not read: an hour's,
// at the 300 that were counted in a game of 39 plies. Doubled, two hours' are shown
// when it is read again.
const mostLines = 1000

// farewell is how long the last lines may take to be read. Reasoned; doubled, a
// program whose terminal hangs ends a second later.
const farewell = time.Second
