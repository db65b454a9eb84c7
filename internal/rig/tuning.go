// SPDX-License-Identifier: Apache-2.0

package rig

import "math"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// What stands in for keys that were not given. Doubled, a rig that leaves them out is
// judged as twice that; none acts where the key is given.
const (
	kineticShare  = 0.75   // kinetic / static friction: CTU Code (2014), Annex 7, Appendix 2
	balanceShare  = 0.35   // centre of mass / height of a turned piece: common practice, no source
	liftSpeed     = 0.020  // m/s: a small servo with a cam; common practice, no source
	liftFriction  = 0.20   // plastic on stainless steel to laminate 0.15–0.20: CTU Code, same table
	rackShare     = 0.90   // efficiency of a rack or belt: common practice, no source
	jerkPerAccel  = 10     // 1/s: the ramp to full acceleration takes 0.1 s
	thinkSeconds  = 1      // about a move: what a guest does not wait for
	logicCurrent  = 0.8    // A, of the controller and what hangs on it: common practice, no source
	defaultCount  = 16     // pieces of one side, and slots for them beside an edge: those of chess
	defaultMargin = 0.040  // m, tray: field edge to slot centre
	baudRate      = 115200 // of a gcode controller: the open firmware's published interface description
	settleTime    = 0.2    // s, of a lift that a servo or relay moves: common practice, no source
)

// When a board that is seen larger or smaller than at bring-up tells of the lens.
const (
	// leastZoom is the share: 0.5 % is 3 mm of 600 mm of height, which bring-up knows to 0.1 mm and a
	// picture to 0.3 mm; a focus that is turned from end to end changes about as much (common practice,
	// no source). Doubled, half as small a turn is noticed.
	leastZoom = 0.005
	// otherBend is by how much the first term of radial distortion differs: a fit to one picture of a board that
	// takes a third of the picture's width was 0.01 and 0.02 off on the twin, where it fits badly some times as much (reasoned). Doubled, only fish-eyes are other lenses.
	otherBend = 0.12
	// mostAside and mostTurned are how far the camera may seem to have gone aside, m, and turned, rad: ten
	// times what bring-up and a picture are unsure of; the middle of a zoom wanders by some px (common
	// practice, no source), and 5 px look like 0.3 deg. Doubled, bumps that change the height too pass for a zoom.
	mostAside, mostTurned = 3e-3, 0.3 * math.Pi / 180
)

// Of what a maker asks by --set and --sweep.
const (
	nearest   = 3    // names that an error offers: as many as fit a line; doubled, two lines
	mostSteps = 1000 // values of one sweep: some seconds; doubled, twice as long
	stepSlack = 1e-9 // of a step, that binary fractions may lack of the last one; doubled, nothing
)
