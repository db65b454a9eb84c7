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

// rungs are those of the ladder, as Strength has them, the weakest first.
// Found by play against itself, each rung against the one below (docs/strength.md has the
// scores), so that the steps are about even. A rung whose overlooks or blur is doubled
// plays about as the rung below. varies is by how many centipawns a move of the opening may
// be worse than the best: less than what one more ply of depth changes. Doubled, the games
// differ more and some openings are slightly odd.
var rungs = []struct {
	name, suits     string
	nodes           uint64
	depth           int
	overlooks, blur float64
	varies          int
}{
	{name: "chalk", suits: "a beginner", depth: 1, overlooks: 0.55, blur: 180},
	{name: "charcoal", suits: "a careful child", depth: 1, overlooks: 0.32, blur: 95},
	{name: "crayon", suits: "anyone who plays now and then", depth: 1, overlooks: 0.12, blur: 55},
	{name: "pencil", suits: "anyone who plays every week", depth: 2, overlooks: 0.05, blur: 35, nodes: 30_000},
	{name: "quill", suits: "a good player", nodes: 700, varies: 40},
	{name: "pen", suits: "a strong player", nodes: 4000, varies: 15},
	{name: "needle", suits: "anyone who wants all I can", varies: 15},
}

// surelyWon is the most that a move seems worth to a casual player, centipawns: a mate is
// that much, so that it is preferred by far and yet no sum grows beyond bounds. Reasoned;
// doubled, nothing changes.
const surelyWon = 3000

// variedPlies is in how many plies from a game's first position the stronger rungs vary
// their moves: the opening. Reasoned; doubled, a game may leave what is known of openings twice.
const variedPlies = 10

// leastTests is how many nodes the moves that may vary are tested with at least.
// Reasoned: a few moves at the depth that a thousand nodes reach. Doubled, a weak player
// takes a tenth of a millisecond longer.
const leastTests = 2000

// How much more readily than another quiet move people castle, take, walk with their king
// or go to the edge of the board while there are queens, where all seem worth the same:
// shares of how often. Our own judgement of beginners. Doubled, they do it about twice as often.
const (
	likesCastling  = 3.0
	likesTaking    = 1.5
	likesKingWalks = 0.1
	likesEdges     = 0.3
)
