// SPDX-License-Identifier: Apache-2.0

package axes

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does.

// rackShare is the efficiency of a rack or belt when the rig gives none.
// Common practice, no source. Doubled it would be no efficiency.
const rackShare = 0.9

// A small trapezoidal screw with a brass nut, for which only the lead is known,
// from memory. Doubled, either one takes about a third to a half of the force
// that an axis has (reasoned: the screw's efficiency is close to
// lead/(lead + π·mean·friction)).
const (
	screwMean     = 7e-3 // m: mean diameter
	screwFriction = 0.2  // of the thread
)
