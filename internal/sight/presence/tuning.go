// SPDX-License-Identifier: Apache-2.0

package presence

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// Where the classifier is asked besides the fitted place when it says nobody
// there: it knows pieces in the middle of its picture, and a fit may be wrong
// by about this much, metres.
const askAside = 1.5e-3

// clearHead is from how many nats on the classifier need not be asked around a place.
const clearHead = 2.0

// Fits of pieces of unknown kind. White pieces on a light board hardly differ in
// colour from it: of 60 that stood somewhere on the twin the worst fitted by −7
// nats, where of bare places one in a hundred did. Those that fit by plain nats
// are found by their silhouettes alone.
const (
	hopeless = -10.0
	plainFit = 8.0
)

// mostAscents is how many places of a picture are felt for pieces without colour.
const mostAscents = 8

// structureLeast is the least relief of a piece: on the twin those hard to see had
// 4.6 and more, bare board has 2.
const structureLeast = 3.5

// besideNats is the most that a fit says for a piece right beside another: less than the head that a
// classifier is sure not to see says against it (9 nats, and 1.7 besides), so that neither decides
// alone. Doubled, a king's shadow on a red margin is a piece that nobody spoke of.
const besideNats = 6.0

// crowdedBelow is from how many half bases of both on two pieces stand clear of each other, and
// crowdedNats what speaks against a piece that nobody spoke of and that would not: people set
// pieces down clear of one another, and what is seen at the foot of one is mostly its own body or
// shadow. On the twin such a place was a queen to a belief of 0.64. No source; reasoned.
const crowdedBelow, crowdedNats = 1.15, 3.0

// provedLeast is the least belief that one place is as it should be. A white piece
// on a light square may be measured a centimetre off, and the classifier then is
// in two minds; of those missing none came near.
const provedLeast = 0.7

// Bounds of a scan for pieces of unknown kind.
const (
	scanStep  = 0.2 // of a square: the silhouettes of the smallest pieces overlap by more than half
	scanLooks = 24  // places looked at closely
)

// mostTaller is how much taller a piece may be than was told: heights are told wrong by a fifth.
const mostTaller = 1.25

// unlike is the probability that what stands at a place looks like any of the set below which
// it is none of it: as sure as a reading that is given out.
const unlike = 0.03

// likeThings is the probability of the same below which it may be a thing that somebody put
// down, or light, and mostThings is how many of those a first picture may show.
const likeThings, mostThings = 0.5, 2
