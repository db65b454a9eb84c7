// SPDX-License-Identifier: Apache-2.0

package drawing

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// Clearances printed: at most mostMeasures a carry, none wider than widestGap, a share
// of a square. Found by looking; doubled, a crowded plan cannot be read.
const (
	mostMeasures = 3
	widestGap    = 0.4
)

// closeShave is how near the least allowed a clearance must be to be drawn as
// a warning, metres: less than a hair's width of reserve. Reasoned; doubled, more are
// drawn so.
const closeShave = 0.1e-3

// askedRing is the radius of the ring round a square where something is asked for, in
// squares: just inside it.
const askedRing = 0.46
