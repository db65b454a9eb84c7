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

// ownLoads is how many times an axis' own friction and inertia its motor works against
// with the magnet at the board and a piece in tow. Reasoned: on the rig that new writes
// both together are less than the axis' own. Doubled, a stepper draws a few percent more:
// nearly all that it takes heats its coils. leastShare is the efficiency that a screw has
// at the least, where the rig gives none.
const ownLoads, leastShare = 2, 0.2

// rackBeyond is how many teeth a rack goes on beyond the pinion's axis at each end of
// the travel. One is what the contact takes; two, since racks are rarely laid to a
// tooth. Doubled, a rack is 4 teeth longer.
const rackBeyond = 2

// What belts and screws need beside the travel. Common practice, no source. Doubled,
// each is so much longer.
const (
	pulleyRoom = 5e-3  // m: between a pulley and the carriage's body at the end of its travel
	beltGrip   = 6     // teeth of an open belt that a clamp holds
	nutLength  = 15e-3 // m: of a small nut along its screw
	screwEnd   = 20e-3 // m: of a screw in a bearing or a coupling, and room before it
)

// bend is the radius a moving lead is bent to, metres. Common practice, no
// source: ten times a thin lead's diameter. Doubled, a lead that follows both axes is
// 126 mm longer.
const bend = 0.020

// Steps, metres, to which travel, walls and leads are rounded up, those of a rule and of
// shops, and what a reach has beyond its need. Common practice, no source. Doubled, boxes
// get larger by as much.
const boxStep, leadStep, spare = 5e-3, 0.25, 3e-3
