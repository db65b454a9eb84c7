// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"math"
	"time"
)

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
const (
	mostTries = 5    // pictures in a row that may not come; doubled, a dead camera is waited for longer
	leastMove = 1e-6 // m: less is no motion
	// shortMove is what an axis is left away from a place rather than moved, m: a tenth of the
	// least backlash that matters. Doubled, places are aimed at so much worse, and measured as well.
	shortMove = 50e-6
	// shortCounts is the same in counts of its motor: what it cannot count it cannot do, and
	// would take up its backlash for. Doubled, coarse motors aim at places so much worse.
	shortCounts = 1.5
	// reach is how far from where it is expected a piece is looked for, m: a skew of 1°, steps
	// 2 % wrong and a board 4 mm off add up to 12 mm at the far corner.
	reach = 12e-3
	// leastSigma is the standard deviation of a sighting at least, m: what warp and light do
	// to one, found on the twin. Doubled, nothing changes but what is an outlier.
	leastSigma = 0.08e-3
	tryDrag    = 30e-3 // m that a piece must follow to be taken for caught
	followed   = 0.6   // share of it that it must have come along
	catchStep  = 5e-3  // m between the places tried for catching it: less than the magnets' pull reaches
	// shortest is the last stretch after which a piece is straight behind the magnet, m: twenty
	// lags of a millimetre; across, the lag falls by e in each.
	shortest   = 20e-3
	lost       = 8e-3  // m from the magnet, at which a piece has been lost: more than any lag
	returns    = 10    // of the test of repeatability
	returnFrom = 50e-3 // m that it goes away before each

	// The pattern is run again while the axes' squareness is less sure than this, standard deviation
	// in deg, as with motors of few counts. Doubled, coarse motors are measured half as surely.
	sureSkew   = 0.012
	mostRounds = 3

	// strew is how far from the middle of its square a place of the pattern may lie, m, so that no two
	// stretches are equally long: a piece comes to rest with more or less lag, and where that
	// repeats with the squares it would pass for wrong steps. Doubled, edges come near the squares' lines.
	strew  = 6e-3
	golden = 0.6180339887498949 // steps of it fill an interval evenly (Weyl 1916)

	// How a piece is carried past a standing one: from twice a spare beyond what is planned, nearer by
	// a step each time, along a run that begins and ends out of each other's reach.
	gapSpare = 4e-3 // m; half of it is left between the bases at last; doubled, the trial takes longer
	gapStep  = 1e-3 // m: the finest that places to 0.15 mm bear; doubled, the gap is known half as well
	gapRun   = 60e-3
	stirred  = 0.5e-3 // m by which a piece that was dragged has moved: five times what a sighting is off

	// How the printed checkerboard is held. Steeper than 40° corners blur, flatter than 20° they
	// tell little of the focal length (Zhang 2000 has its best at 45°, without blur).
	tilt       = 30 * math.Pi / 180 // rad
	middleNear = 0.55               // of the camera's height; doubled, the sheet is small and tells half
	rimNear    = 0.65
	outwards   = 0.35  // of half the picture: the sheet's own rim then comes near that of the picture
	worstFocal = 0.003 // standard deviation of the focal length as a share, beyond which the pictures are refused; doubled, heights are off by 2 mm more

	meanOf = 8 // pictures of the bare board that are averaged: noise a third, and dead quick; doubled, nothing to see
)

// restTime is how long the lift may take to sink when a bring-up ends.
const restTime = 10 * time.Second
