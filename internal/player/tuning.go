// SPDX-License-Identifier: Apache-2.0

package player

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// searchMB is the size of the built-in player's table of positions, megabytes: what a
// small board can spare. How it was found is not recorded; doubled, long thoughts go
// a little deeper.
const searchMB = 16

// What weighing a position may cost: a fraction of a second even on a small
// board, and enough to see through exchanges and threats. Reasoned; doubled, a draw
// offered is answered later.
const (
	weighNodes = 60_000
	weighMB    = 4
)

// adviceNodes is what a hint may cost: about half a second on a quiet computer, two on a
// small board. Reasoned: a guest waits for it. Doubled, hints come twice as late and are
// hardly better.
const adviceNodes = 300_000
