// SPDX-License-Identifier: Apache-2.0

package validate

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// What is let pass of places, metres. Doubled, a plan that is that much worse passes.
const (
	slack      = 100e-6 // arcs as polylines (10 µm) with few corners (20 µm), those rounded (50 µm), chords between samples (10 µm), following in steps
	followStep = 0.2e-3 // of the magnet, when following the piece behind it
	joint      = 1e-6   // between the end of one path and the start of the next
	offCentre  = 0.15   // of a square: how far off centre a placed piece may end; half of what still counts as on it
)

// What is let pass of a trajectory.
const (
	sampleGap = 0.0101 // s between samples at most: nothing can hide between two; doubled, 2 mm of a path go unlooked at
	over      = 0.01   // share over a limit: differences of exact samples are means, never more than the limit itself
	rounding  = 1e-9   // share over a limit that a number may be by its rounding
)

// bent is how far, metres, a place may lie off the middle of those before and
// after it for the way to count as straight there: far above rounding, far below
// what the gentlest arc of the slowest drive shows between two samples.
const bent = 1e-12
