// SPDX-License-Identifier: Apache-2.0

package inference

import "boardhand/internal/sight/nats"

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// strayMost is how many pixels a search may weigh before it makes do with what it
// has found: four times what the longest of a ray-traced game weighed.
const strayMost = 4e6

// fromNowhere is the logarithm of the prior that a piece comes who was not on the
// board before, besides that of a stray: shadows and glares pass for such pieces
// by up to about this much, one that really came is seen by several times it.
const fromNowhere = -25.0

const (
	fallenDirections = 16 // directions tried
	// fallPrior is the logarithm of the prior that a piece seen changed has
	// fallen, in some direction: people set pieces down upright.
	fallPrior nats.LogPrior = -5.0
)

// leansPrior is the logarithm of the prior that a fallen piece came to rest over or against
// one that stands, which seldom bears it: one in twenty. lostSpots is how many patches of the
// picture a lost piece is looked for at, the largest first; it hides all but two or three.
const leansPrior nats.LogPrior = -3.0
const lostSpots = 3

// fallenLeast is the share of a base that a finished move must leave unexplained
// before a piece of it may have fallen: a lying piece hides its shadow and an odd
// head better than the outline of a standing one, yet leaves a head's length
// of the standing one's picture bare.
const fallenLeast = 0.15

// The search for a piece that was lost on the way.
const (
	seekStep = 0.25 // of a square: half a base of the smallest piece, so that none is stepped over
	seekBest = 4    // places looked at closely
)

// A nudge must explain the picture better by this many nats before it is
// believed, the prior that somebody touched this piece; another light on a piece by
// fewer.
const nudgeCost, relitCost = 2.5, 1.0

// disturbance is the share of changed pixels from which something may have happened to a
// piece, or on a square: a nudge of a millimetre changes more.
const disturbance = 0.12

// mostTouched is how many pieces people touch in one move; more is the camera's doing.
const mostTouched = 5

const (
	// modelSigma is what the generic profiles, the lens and the models of colour leave
	// of a systematic error in a piece's place, metres, σ, if it could not be told
	// better from its ground.
	modelSigma = 0.5e-3
	// probeStep is the step by which the sharpness of a fit is measured, metres.
	probeStep = 0.8e-3
)

// gap is how many image pixels of what looks like the board may cut a hand in
// two: skin can have the colour of a square.
const gap = 3

// LeavesDoubt is the share of the smallest base from which what is left unexplained
// is too much.
const LeavesDoubt = 0.35

// doubt is how much likelier than an outlier a colour must be for a pixel to
// count as explained.
const doubt = 4.0

// The search for several plies: sequences kept a depth, weighed on the picture, and with
// their pieces moved to where they fit best. Of two plies there are about a thousand; the
// true one was among the first 20 by its squares alone.
const beamWidth, sequencesWeighed, sequencesRefined = 300, 10, 3

// oddShare is how often a picture that was not agreed upon shows neither the position before a
// ply nor after it: each says by 12 nats at most what was played. Reasoned: hardly ever, but a
// light that is not understood counts too.
const oddShare = 6e-6
