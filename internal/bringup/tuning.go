// SPDX-License-Identifier: Apache-2.0

package bringup

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
const (
	mostTries = 5    // pictures in a row that may not come; doubled, a dead camera is waited for longer
	leastMove = 1e-6 // m: less is no motion
	// shortMove is what an axis is left away from a place rather than moved, m: a tenth of the
	// least backlash that matters. Doubled, places are aimed at so much worse, and measured as well.
	shortMove = 50e-6
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
)

// restTime is how long the lift may take to sink when a bring-up ends.
const restTime = 10 * time.Second
