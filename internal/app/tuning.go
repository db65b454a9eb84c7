// SPDX-License-Identifier: Apache-2.0

package app

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// thinkTime is how long a position is thought about when nothing is said, and thinkMB
// the memory for positions then. Common practice, no source; doubled, answers come
// later and are a little better.
const (
	thinkTime = time.Second
	thinkMB   = 64
)

// watchMemory is the soft limit of the heap while pictures are read, bytes: a
// picture makes many short-lived arrays, and a small computer has other work. Halved,
// reading takes longer.
const watchMemory = 80 << 20

// mostAhead is how many pictures are unpacked ahead of the reading, which takes several times
// as long for each: more would only take memory.
const mostAhead = 3

// defaultKeep is how much room pictures may take when it is not said: some 180
// games, at the 11 MB that were measured for one of 80 plies.
const defaultKeep = "2 GB"

// mostGames bounds a rehearsal: more than a year of one core.
const mostGames = 10_000_000
