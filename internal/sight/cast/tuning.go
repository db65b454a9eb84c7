// SPDX-License-Identifier: Apache-2.0

package cast

// The tuned numbers of this package: value, unit, meaning, and how they were found.

// bare is the clear view of the board from which a pixel shows it.
const bare = 0.98

// discs is how many discs stand for a piece: more change no shadow by a millimetre.
const discs = 9

// Where lamps are looked for: in so many directions around the board; from nearest, metres from
// the board's middle, three times twice as far; higher than that by a share from shallow on, each
// so many times steeper, up to its reciprocal; none lower than lowestLamp, metres: it is above all
// pieces. By so much of the open board at first; then in steps, as shares of its distance and
// height, from half of that between directions down to the last. Reasoned: half a step on from
// the nearest lamp of the grid, shadows still overlap by half. In even steps of 15 degrees from
// low to high a low lamp was missed, and a piece taken for light (TestUnforeseen).
const (
	bearings   = 24
	nearest    = 0.15
	shallow    = 0.25
	steeper    = 1.5
	lowestLamp = 0.12
	coarse     = 800
	lastStep   = 0.02
)

// leastFit is the correlation of shadows with what is dark from which they are believed. A low
// lamp in a dark room made 0.79. Doubled, no lamp is found and no shadow asked.
const leastFit = 0.5

// How deep a place lies in a shadow, as a share of its half width, that is surely in it, and
// that is surely out of it: lamps are no points, and profiles are not measured.
const inside, fringe = 0.8, 1.3

// leastOwn is of how much of its own shadow, pixels of a millimetre and a half, a piece must be
// told, and leastPieces of how many pieces, before shadows are asked: a third of a pawn's base.
// Reasoned; doubled, short shadows of high lamps say nothing.
const leastOwn, leastPieces = 30, 6

// How much the dark share of pieces' own shadows spreads at least, and that of bare board, σ:
// under one low lamp they had 0.44–1 and 0–0.05, and of 154 pieces in five pictures taken for
// unforeseen in turn none was spoken against by half a nat. Doubled, a piece too many is
// spoken against by a quarter as much.
const leastSigma, litSigma = 0.12, 0.08

// mostNats is the most that a missing shadow says: a flat thing casts none. Halved, a head that
// the classifier is sure of outweighs it.
const mostNats = 8
