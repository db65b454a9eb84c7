// SPDX-License-Identifier: Apache-2.0

package quality

import "math"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// reach is how many squares from a corner are looked at, each way: enough edges that
// some are free when pieces stand on the first two ranks. Doubled, corners and the
// middle are one.
const reach = 4

// profileReach is how far a line across an edge goes each way, as a share of the
// square; not to the middle, where pieces stand. Doubled, few lines are free.
const profileReach = 0.3

// asides are where lines cross an edge, as shares of the square along it to either side of
// its middle. Reasoned: clear of the corners and of the pieces' middles.
var asides = []float64{0.25, 0.3, 0.35}

// samples is how often a line is sampled: finer than a pixel for squares up to 60 px.
// Doubled, it takes twice the time.
const samples = 61

// leastStep is the least contrast of an edge that is measured, grey levels: three times
// what JPEG and a noisy sensor leave (common practice, no source). Doubled, boards of
// low contrast have no sharpness.
const leastStep = 12

// mostUneven is how much either level may vary, as a share of the step. Reasoned:
// wood has a grain. Doubled, pieces' rims are taken for edges.
const mostUneven = 0.25

// mostAside is how far from where the edge is expected a step may lie, as a share of
// the square: the view is good to half a pixel of twenty or more. Doubled, rims and
// shadows are measured, which are softer.
const mostAside = 0.05

// leastProfiles is how many plain profiles a place needs. Reasoned: a quartile of fewer
// is one profile's luck. Doubled, crowded corners are not told.
const leastProfiles = 5

// whitest and blackest are the grey levels from which on a pixel tells nothing.
// Reasoned: JPEG shifts the ends of the scale by some levels. Doubled, blackest takes
// dark pieces for blots.
const (
	whitest  = 252
	blackest = 4
)

// stride is how many pixels are passed over, each way. Doubled, a quarter is looked at.
const stride = 3

// halfNormal turns the mean of the lower nine tenths of |x| into σ of a normal x:
// 0.9/(√(2/π)·(1 − exp(−q²/2))) with q = 1.6449, the 95 % quantile. It is computed.
var halfNormal = 0.9 / (math.Sqrt(2/math.Pi) * (1 - math.Exp(-1.6449*1.6449/2)))

// Limits of the advice. Reasoned from the reader, which works on a pixel a millimetre
// of board: an edge wider than two of those hides where a piece stands. blurredPX is
// common practice for lenses in focus (two to three pixels), with some room.
const (
	blurredPX   = 4.5  // 10–90 % width of an edge
	blurredMM   = 3.0  // the same on the board
	smallSquare = 28.0 // px a square: below, a square has too few pixels for the pieces' outlines
	dim         = 60.0 // grey level of the lighter squares
	uneven      = 2.5  // the brightest corner to the darkest
	flat        = 18.0 // contrast of the squares, grey levels
	muchClipped = 0.02 // share of the board
	noisy       = 6.0  // σ, grey levels
	muchTilt    = 8.0  // degrees
)
