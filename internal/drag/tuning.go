// SPDX-License-Identifier: Apache-2.0

package drag

// The numbers of this package that were set by hand, each with its unit, its
// meaning and how it was found.

// lowest is how far down a drop may be looked for, metres.
const lowest = 0.1

// dropSettled ends the search for the drop: a hundredth of a millimetre, far
// below what a lift repeats.
const dropSettled = 1e-5

// How the sinking magnet is followed. The shares are those of the force law's
// accuracy; how the steps were found is not recorded.
const (
	sinkStep  = 0.25e-3 // m: first step of the scan downwards
	sinkShare = 0.15    // and how much of the way down the next one is: forces go as a power of the gap
	restStep  = 0.2e-3  // m: offsets looked at
	sinkError = 1e-4    // share: the accuracy of the force law
)

// The ranges for which the formulas were checked, and the steps of their searches.
const (
	mostMass     = 5.0     // kg
	mostFriction = 2.0     // no dry pair is above
	usualReach   = 0.08    // m
	scanStep     = 0.25e-3 // m
	settled      = 1e-7    // m, where searches end
)

// loadPlaces are the offsets looked at; between them the moments change by a
// few percent.
const loadPlaces = 12

// The steps of the sums of work over an offset, m. Doubled, they change what is told by
// less than its last digit (reasoned: they are a thousandth of the offsets).
const surgeStep, workStep = 1e-5, 2e-5

// leastStick is how far a piece is thought to stick beyond where it slides, m, where
// friction is the same at rest and in motion. Reasoned: a tenth of a millimetre is seen
// by nobody.
const leastStick = 1e-4
