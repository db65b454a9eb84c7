// SPDX-License-Identifier: Apache-2.0

package axes

import "boardhand/internal/unit"

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

// GuideEnds is what a guide has beyond travel and body for its holders, where there is room,
// metres. Common practice, no source. Doubled, guides are 40 mm longer.
const GuideEnds = 40e-3

// What is assumed of places that a rig does not give, metres. Common practice, no source; the
// sheets say so. openFloor and openWall are left under and around the carriage where the rig
// has no walls; rods are thicknesses of guides, from the one that is taken first; a slider is
// twice as thick; railPlay is kept between parts; rowHalf is half of what a rack, a belt or a
// screw takes. Doubled, boxes get so much larger.
const openFloor, openWall, railPlay, rowHalf = 10e-3, 40e-3, 1e-3, 3e-3

// rods are those thicknesses of guides.
var rods = []unit.Length{8e-3, 6e-3}

// Sizes of motors, metres: of steppers by the torque that they hold with, N·m, face and length
// as frames 8, 11, 17 and 23 of NEMA ICS 16 have it (the frame is the face in tenths of an
// inch; lengths and torques from memory of makers' lists). Doubled, a motor finds no room.
var frames = []size{{0.04, 20.3e-3, 38e-3}, {0.13, 28e-3, 51e-3}, {0.6, 42.3e-3, 48e-3}, {50, 56.4e-3, 76e-3}}

// geared are sizes of gear motors by their stall torque: micro gear motors of 10 × 12 mm and
// those with a case of 25 mm, from memory of makers' lists. Doubled, a motor finds no room.
var geared = []size{{0.35, 12e-3, 36e-3}, {50, 25e-3, 60e-3}}

// liftBody: wide, deep, high.
var liftBody = [3]unit.Length{20e-3, 20e-3, 30e-3}
