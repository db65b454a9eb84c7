// SPDX-License-Identifier: Apache-2.0

package gauge

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
const (
	// edgeHeight is how high over the board the edge of a base is that the camera
	// sees, m: turned bases are rounded off or bevelled by half a millimetre to one and a
	// half. Doubled, steps per mm come out 0.17 % wrong under a camera at 600 mm.
	edgeHeight = 1e-3

	// coarse is the step of the first search, m: about two pixels. Doubled, small bases are missed.
	coarse = 1.5e-3
	finest = 0.5e-3 // half the width in which the edge is looked for at last, m: a pixel
	// fineStep is between samples across the edge, m: a sixth of a pixel.
	fineStep     = 0.1e-3
	reachOfSlope = 4 // steps each way over which a slope is taken: most of a pixel

	// A clean step has one level on either side from close on to twice as far, in steps:
	// within a share of its height.
	close      = 7
	mostUneven = 0.15

	directions  = 72   // to the edge: one each five degrees
	nearHalf    = 0.25 // cosine to where the piece leans, up to which the edge is open; the body hides the rest
	leastPoints = 10   // of the edge: a sixth of those looked at
	leastEdge   = 0.08 // share of light by which a piece differs: four times the noise of a webcam

	// The fit of the circle begins with weights that bound outliers and ends with some that
	// drop them: where a shadow's rim leaves the base, the edge seems up to 1 mm farther out,
	// always on the same sides.
	biweight = 4.0 // standard deviations; linear.BiweightLimit drops less, and a centre comes out 0.17 mm off
	passes   = 12  // six of each kind; the last ones change nothing
)

// What the scatter of sightings does not show.
const (
	// LightBias is the standard deviation of what the light does to all places alike, m: found
	// on six twins. Doubled, the record states the field's centre so much less surely.
	LightBias = 0.1e-3
	// EdgeHeightDoubt is that of the height of the edge of a base, m; over the camera's height
	// it is a share of all distances.
	EdgeHeightDoubt = 0.3e-3
)
