// SPDX-License-Identifier: Apache-2.0

package trajectory

import "math"

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does, measured or reasoned.

const (
	// trailStep is the longest stretch of the carriage's path for which a piece's
	// way is drawn as one line, metres, and thinned how far the drawing may leave
	// that way. A tenth of what the validator lets pass. Doubled, plans hold half
	// as many places and stay valid (reasoned).
	trailStep = 1e-3
	thinned   = 10e-6
	// alike are speeds of arcs so near to each other, as a share, that the slower
	// one holds for both: less than a hundredth of a carry's time. Doubled, times
	// grow by less than another hundredth (reasoned).
	alike = 0.03
	// breath is the shortest straight piece between two arcs on which it is worth
	// gaining speed, metres: over 2 mm at 4 m/s³ it is 8 mm/s. Doubled, crooked
	// ways get slower by less than a tenth of a second (reasoned).
	breath = 2e-3
	// excess is the share by which a section's top speed may be passed: rounding.
	// Doubled, nothing changes (reasoned).
	excess = 1e-6
	// sampleEvery is the time between two samples at most, s: at 120 mm/s on an arc
	// of 20 mm the chord between two leaves it by 9 µm. Doubled, the validator
	// refuses every plan: nothing may hide between two samples.
	sampleEvery = 0.010
)

// sharp is the turn, radians, from which the carriage stops at a corner: a
// reversal, not a bend. How it was found is not recorded; doubled, no turn would
// be a reversal.
const sharp = 0.9 * math.Pi
