// SPDX-License-Identifier: Apache-2.0

package locate

import "math"

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// leastViews is how many pictures a calibration needs: with fewer, focal
// length and distortion trade against each other.
const leastViews = 5

// growRounds bounds how far a patch grows beyond what was linked: a
// checkerboard seldom misses more than a row.
const growRounds = 8

const (
	// edgeHalf is half the width, px, over which an edge changes: lens blur,
	// the sensor's grid and JPEG together.
	edgeHalf = 1.8
	// wideHalf is where the fit of a far corner starts for wideSteps steps: a
	// wide soft edge reaches the true one from 4 px away.
	wideHalf, wideSteps = 3.5, 3
	// windowShare of a step is looked at on each side, at most windowMost px: enough
	// edge to average noise, clear of pieces.
	windowShare, windowMost = 0.34, 11.0
	cornerSteps             = 10
	// A pixel this many residuals off the model counts a quarter: on a board
	// pieces stand about, on a printed sheet nothing does.
	strayTight, strayLoose = 1.5, 4.0
	// mostLast is the largest last step, px, of a fit that has arrived.
	mostLast = 0.1
	// cornerNoise is added to every stated sigma, px: what JPEG blocks, print
	// and veneer shift a corner that noise alone would not.
	cornerNoise = 0.10
)

const (
	// leastContrast of a corner, levels: below it noise and grain rule.
	leastContrast = 3.0
	// A chequer's four fields alternate: the part that changes with both
	// directions exceeds those that change with one, unless a shadow's edge or
	// a piece cuts in; and explains the pixels.
	mostOneSided = 0.8
	mostResidual = 0.6
	// wander is how far, as a share of a step, a corner may lie from where it
	// was expected.
	wander = 0.18
)

const (
	edgeSteps = 7
	// edgeNoise is added to the stated sigma, px: a field's own edge is cut,
	// printed or grained no better than a few hundredths of a millimetre.
	edgeNoise = 0.2
)

const (
	// linkCone is how far a neighbour may lie off the edge's direction: the
	// ring's phase is half the skew off under 45° of tilt.
	linkCone = 0.5
	// linkPhase: neighbours have opposite fields light, phases π apart; 0.9
	// leaves room for noise and for perspective.
	linkPhase = 0.9
)

// span is how far from the origin, in squares, corners are looked for. The
// origin lies within the field, so its 7 × 7 inner corners are within 7.
const span = 7

// Measurements are kept while the view predicts the corner within keepSeen px
// of where it was measured, or of where nothing was found.
const keepSeen = 0.3

const (
	// mostPatches: the field may be cut into pieces by pieces and a hand; the
	// board is among the few largest.
	mostPatches = 4
	// leastPatch is 2 × 3 corners: enough for a pose with a known lens.
	leastPatch = 6
)

// What a rig file's nominal values are worth, as standard deviations. The
// contract asks for 3 % of height and 2 degrees of field; people measure to
// the lens's front and read angles off advertisements.
const (
	heightShare = 0.03
	hfovSigma   = 2.0 * math.Pi / 180
	centreShare = 0.004 // of the picture's width: how far a lens sits off its sensor's middle
	// Small lenses bend by k1 −0.3 to +0.05; k2 is of the size of k1².
	k1Mean, k1Sigma, k2Sigma = -0.1, 0.15, 0.06
)

// sideOff is how far off the line the fields beside a side are compared, in squares; no
// nearer than pastOutline.
const sideOff = 0.12

// clearSide is what counts as clearly seen.
const clearSide = 0.35

const (
	// leastSides of 112 must be seen clearly: ranks 3 to 6 alone have 52.
	leastSides = 30
	// leastAgreement among the sides seen clearly: pieces cover some and mimic
	// either sign, so a third of 60 hidden sides may differ by chance.
	leastAgreement = 0.75
	// leastLead over the next best place of the field, in sides: one row of
	// eight seen to its half.
	leastLead = 4.0
	// leastRim of the seven sides along the first and last file and rank must
	// be seen: else what hides one may hide where the field ends.
	leastRim = 2
)

// mostRMS of a believable fit, px: a warped or badly printed board has 1 px.
const mostRMS = 1.5

const (
	ringReach = 5
	// saddleFloor is the least score: a chequer of eight levels' contrast
	// scores about 40, a flat field with a noise of two levels below 0.
	saddleFloor = 20
	// saddleApart is the least distance of two saddles, px of the level.
	saddleApart = 4
	// mostSaddles bounds the search: a board has 49, and pieces, hands and the
	// table's own patterns some hundreds.
	mostSaddles = 700
)

// The nominal step may be wrong by 6 %, tilt and distortion change it over the
// picture by a third.
const leastStep, mostStep = 0.55, 1.5

const (
	// fitRounds of measuring and fitting: two bring the far corners within the
	// reach of the measurement, one more settles them.
	fitRounds = 4
	// leastCorners to believe in a board: a 3 × 4 block.
	leastCorners = 12
)

// strayFactor: a corner that lies this many times the median miss from the
// fit, and more than strayLeast px, is not a corner; nor is an edge a field's.
const strayFactor, strayLeast = 5.0, 0.35

// mostTilt of a camera that is meant to look straight down: twice what the
// contract asks for and more.
const mostTilt = 15 * math.Pi / 180

const (
	// edgeLong and edgeDeep: half the length and depth of a place, in squares.
	edgeLong, edgeDeep = 0.08, 0.14
	// pastOutline is how wide a soft edge is, px: no farther over the field's outline is
	// looked, because a line may be inlaid or printed there.
	pastOutline = 2.5
	// A stray place lies this many times the median miss off, and more than strayLeast.
	strayEdgeFactor = 4.0
	strayRounds     = 2
)

// stillSigmas: a move of the field's corners by less than this many standard
// deviations – the largest of 81 – is noise.
const stillSigmas = 4.0

const (
	// stillReach: corners that lie on the median within so many px of where
	// the earlier view has them are measured well from there.
	stillReach = 0.8
	// leastProbes of the ten corners asked first must be seen for an answer.
	leastProbes = 4
)

const (
	// usualHFOV and its standard deviation: what small cameras are sold with (55–80 degrees for
	// nearly all of them).
	usualHFOV, usualHFOVSigma = 66 * math.Pi / 180, 7 * math.Pi / 180
	// lensDoubt is how wrong a field of view told from one picture is beyond what the fit says: in
	// the first pictures of 19 rooms two were off by four and six of its standard deviations.
	lensDoubt = 4 * math.Pi / 180
	// unknownHeightShare is how little a height says that was only guessed from the field of view.
	unknownHeightShare = 0.5
)

// fieldShares are how much of the picture's shorter side the field may take: from each of them
// a lattice of half to one and a half times the size is found.
var fieldShares = [...]float64{0.85, 0.5}

// otherLens is how many times farther corners may be off through a lens as measured than through one fitted
// to the picture. Reasoned: another lens is off by pixels. Doubled, one that bends half as much passes for the same.
const otherLens = 2.0
