// SPDX-License-Identifier: Apache-2.0

package lens

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does. They make pictures, and readings of them only
// through these. What draws a shape (profiles, limbs, textures) stands with it.

// How finely a picture is computed. Found by looking: halved, steps can be seen;
// doubled, a picture takes up to four times as long and looks the same.
const (
	fine     = 2       // samples a pixel has each way
	turns    = 20      // facets a piece has around; at 30 px across a facet is 4 px and, smoothly shaded, not seen
	cuts     = 14      // slices through a piece for its shadow: at 52 mm and a lamp at 45° they lie 4 mm apart, less than their soft edges
	lowCuts  = 40      // the same for a lamp that stands low: at 15° a shadow of 190 mm is cut every 5 mm, less than the thinnest neck is wide
	full     = 16384   // linear 1.0 in a plate: two bits of headroom in 16 for highlights
	lutSize  = 16384   // levels of the film's curve
	noiseAll = 1 << 18 // values of noise drawn once and used from anywhere
)

// gridStep is how far apart rays are traced, px; between them they are
// interpolated, wrong by less than 0.003 px for lenses within the deviations of
// built machines. Doubled, that error is four times as large.
const gridStep = 8

// The lens's blur: weights of the four samples across a pixel and half of each
// neighbour. The same for the plate, in whole pixels, of 256. A bell of 0.4 px, what a
// small lens leaves; from memory. Wider, corners and edges are less sharp.
var (
	sampleBlur = [4]float32{0.14, 0.36, 0.36, 0.14}
	pixelBlur  = [3]uint32{38, 180, 38}
)

// vignetting is the share of cos⁴ in the fall-off towards the corners: lenses for
// small sensors ease it. Common practice, no source. Halved, corners are brighter.
const vignetting = 0.75

// The film. Common practice of small cameras in lit rooms, no source.
const (
	noiseSigma  = 36   // sixteenths of a display value of 255; doubled, the reader's offsets are coarser
	noiseShared = 0.35 // of a value is its neighbour's: cameras smooth their noise; doubled, noise is blotchy
	quality     = 88   // of the JPEG
	shoulder    = 0.7  // of full, linear: from here highlights are compressed instead of clipped

	greyTarget    = 0.185 // mean linear light that the exposure control aims at; doubled, pictures are twice as bright
	evenness      = 0.8   // how much of a change of the light it makes up for; 1: all
	exposureStep  = 0.25  // of the way that it goes from picture to picture, in log; doubled, hands change the exposure faster
	leastMean     = 1e-3  // mean light below which it does not go on opening
	leastExposure = 0.4   // of the middling exposure
	mostExposure  = 2.5

	driftKept = 0.98 // of the wandering that is left in the next picture: some ten seconds' memory
)

// driftSigma is how much exposure, red, green and blue wander from picture to picture,
// in log. Doubled, so does what the reader's model of the light must follow.
var driftSigma = [4]float64{0.006, 0.003, 0.002, 0.004}

// The room's lamp, drawn between the first number and that plus the second: a living
// room. From memory of such rooms, no source.
const (
	lampOut, lampFarther    = 0.45, 0.5  // m beside the board's middle; doubled, shadows are twice as long
	lampHigh, lampHigher    = 1.0, 0.5   // m over the board; doubled, shadows are half as long
	lampPower, lampStronger = 0.5, 0.22  // its share of the light; doubled, there is no other
	lampRadius, lampWider   = 0.04, 0.08 // m; doubled, shadows have edges twice as soft
	lampTint                = 0.06       // how much redder than white, at most
	tintBlue, tintRed       = 1.5, 0.5   // of that: how much less blue the lamp, less red the rest
)

// lowest is the least height of a lamp over the board that is not low, m.
const lowest = 0.8

// A lamp that stands low, with its fault: a reading lamp on the same table, small and
// 15–30° over the board seen from its middle. From memory of such evenings, no source.
const (
	lowOut, lowFarther  = 0.6, 0.35
	lowRise, lowSteeper = 15, 15 // degrees
	lowRadius, lowWider = 0.012, 0.01
)

// How shadows are.
const (
	leastSoft = 0.0004 // m, half the least width of a soft edge: the lens's own blur
	underLamp = 0.05   // m that things stay below a lamp, so that shadows are finite
	darkReach = 2.2    // bases: how far the darkness at the base reaches; from memory
	darkest   = 140    // of 255, of the light from everywhere, there
	darkFall  = 0.4    // of a base, over which that falls to a third
	inTheAir  = 0.004  // m over the ground from which nothing is dark below a piece
)

// How surfaces answer light. Found by looking at pictures beside photographs, from
// memory, no source. What is more than 1 makes up for what the simple rules leave out.
const (
	pieceBright = 1.05 // of the lamp's light, on pieces
	diffuse     = 0.9  // of it, that is not mirrored
	leastRise   = 0.3  // sine of the lamp's height, by which the light on a level surface is divided, at least
	openSide    = 0.62 // of the light from everywhere, on an upright surface
	openLow     = 0.55 // of that, at a piece's base
	openHeight  = 0.6  // of a piece's height, from where it is all
	shineBright = 2    // of a highlight over the lamp's light
	skyShine    = 0.03 // of the ceiling, mirrored in polish

	glossSharp  = 90     // exponent of the board's highlight
	glossBright = 3      // of it over the lamp's light
	noGloss     = 0.93   // cosine from which on there is none: 0.93⁹⁰ is nothing
	inlayWidth  = 0.0012 // m, of the strip round the squares
	squareTint  = 0.10   // by how much one square's veneer differs from another's, at most

	armBright   = 1.1  // of the lamp's light, on arms
	armOpen     = 0.6  // of the light from everywhere, on an upright surface
	skinRough   = 0.10 // contrast of skin
	clothFolds  = 0.5  // contrast of a sleeve's folds
	clothThread = 0.25 // and of its threads
)

// How far light bleeds past the edge of shade, red, green and blue.
var skinWrap, clothWrap = [3]float64{0.30, 0.18, 0.12}, [3]float64{0.1, 0.1, 0.1}

// palm is a middling hand over the one drawn: 165 mm from the wrist to the fingertips,
// drawn at 180.
const palm = 0.92

// Chances of mishaps per picture, when their fault is on: so that a game of some
// hundred pictures sees a few. Doubled, it sees twice as many.
const (
	dropChance  = 0.04
	bumpChance  = 0.01
	lightChance = 0.015
)

// How far a knock moves the camera, at most: what a bracket gives. Common practice, no
// source. Doubled, the reader must look for the board anew after most of them.
const (
	bumpShift  = 0.006 // m, sideways
	bumpHeight = 0.003 // m
	bumpTilt   = 0.015 // rad
	bumpYaw    = 0.02  // rad
)

// How a light changes that is switched, at most, in log, red and blue over green.
// From memory, no source. Doubled, it may be almost dark.
const (
	switchLamp, switchRoom = 0.5, 0.3
	switchRed, switchBlue  = 0.04, 0.06
	leastLight             = 0.15 // of the middling light, that is left
)

// Runs of wrong pictures: at five pictures a second they last up to a second
// and a half, what a cable that is touched and a driver that starts anew take.
// Common practice, no source. Chances doubled, they come twice as often; lengths
// doubled, the table tells people that the camera is silent.
const (
	lostChance   = 0.04
	lostMost     = 5
	frozenChance = 0.04
	frozenLeast  = 2
	frozenMost   = 8
)

// How people lean in, with the fault: from memory, no source. The chance doubled, half
// of all pictures have a shadow; the time doubled, moves wait for the same shadow.
const (
	leanChance            = 0.08      // of the pictures without one, in which one comes
	leanLeast, leanMost   = 2, 9      // pictures that they stay
	leanDrift             = 0.008     // m, from picture to picture, at most
	leanTries             = 40        // places looked at for one who is not in the picture
	leanNear, leanFarther = 0.3, 0.35 // of the way from the board to the lamp, where the head is
	leanBelow             = 0.8       // of the lamp's height, over which no part is
)

// How a glare is, with the fault: from memory of glossy boards, no source. It covers one
// to three squares, and its middle burns out on every square.
const (
	glareChance               = 0.2         // of the pictures without one, in which one comes
	glareLeast, glareMost     = 3, 12       // pictures that it stays
	glareWander               = 0.03        // m that the source moves between two pictures, one sigma
	glareRough, glareRougher  = 0.025, 0.04 // rad, spread of the varnish's facets; doubled, four times as many squares
	glarePower, glareStronger = 0.6, 1.0    // over a white wall under the room's light
	glareHigh, glareHigher    = 1.2, 1.0    // m over the board, where its source is
)
