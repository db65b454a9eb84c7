// SPDX-License-Identifier: Apache-2.0

package asbuilt

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
const (
	leastFreedom = 10 // equations more than unknowns; with fewer, outliers cannot be told

	// The weights: Huber's at first, for any start, then Tukey's, which drop outliers, both with
	// the limits at which they are 95 % efficient.
	passes  = 10  // half of each; the last change nothing
	outlier = 0.1 // weight below which a sighting is named: 3.9 standard deviations off

	alongFirst   = 3.0    // how much more a place scatters along the drag, to begin with; it is estimated
	leastScale   = 1e-6   // of the sightings' own standard deviation, for sightings without any error
	normalMedian = 0.6745 // of the size of a normal error

	iterations = 30    // of the minimisation; it ends after a few
	tolerance  = 1e-12 // of the sum of squares
	quotient   = 1e-6  // width of difference quotients, m, rad and shares alike: the model is nearly linear
)
