// SPDX-License-Identifier: Apache-2.0

package search

// The numbers of this package that were set by hand, each with its unit, its
// meaning and how it was found.

// How a casual player errs. The figures are our own judgement of beginners.
const (
	overlooks   = 0.30 // of the moves, at skill 0, are judged without the answer
	blurLeast   = 12.0 // standard deviation of a judgement at skill 1, centipawns
	blurMost    = 90.0 // and at skill 0
	looksDeeper = 0.6  // at skill 1, of the moves are judged one ply deeper
)

// casualPlaces is the size of the memory for a glance: some thousand positions.
// A bound of memory.
const casualPlaces = 1024

// minor is about what one minor piece is worth: without pawns, a lead no larger
// than this does not win. Centipawns; common practice, no source.
const minor = 400

// Weights of hunting a bare king, our own judgement: to drive it to the edge,
// to a corner of the bishop's colour, and to bring up the own king.
const (
	edgeWeight   = 16
	cornerWeight = 24
	nearWeight   = 10
)

// tempo is what the right to move is worth, centipawns. How it was found is not recorded.
const tempo = 12

// The memory for positions seen that may be asked for, megabytes: bounds of sense.
const (
	smallestMemory = 1
	largestMemory  = 4096
)

// Margins in centipawns a ply of depth left. How they were found is not recorded.
const (
	safeMargin   = 85 // so far ahead that the opponent cannot catch up
	futileMargin = 110
)

// Worth of a pawn one step and two steps before the king, and of a file by the
// king without an own pawn, in the middle game, centipawns. How they were found is
// not recorded.
const (
	nearShield = 14
	farShield  = 7
	bareFile   = -14
)

// mateMargin is how many plies deeper than a mate it is looked for a shorter
// one, which reductions may have hidden. How it was found is not recorded.
const mateMargin = 4

// firstMargin is half the first window round the last score, centipawns. How it was found is not recorded.
const firstMargin = 28

// hope is how much more than the piece taken a capture may gain, centipawns. How it was found is not recorded.
const hope = 150

// checkEvery is how many nodes pass between looks at the clock and the context:
// well under a millisecond of work.
const checkEvery = 512

// How much less deep late quiet moves are searched: fewerLeast and the product of the
// logarithms of depth and number over fewerSlope, plies. Common practice. The slope
// doubled, the search is slower and misses less; testdata/golden shows how soon tasks
// are solved.
const fewerLeast, fewerSlope = 0.3, 2.3
