// SPDX-License-Identifier: Apache-2.0

package commission

// How far a measured figure may be from its plan before the record says so. They are
// what a plan's clearance of 0.5 mm bears over a board of 320 mm, where carries do not
// allow for it by themselves; common practice for the camera. Doubled, less is said.
const (
	scaleOff    = 0.003 // 0.5 mm over half of the board
	skewOff     = 0.2   // deg: 0.5 mm over half of the board
	turnOff     = 0.2   // deg, the same
	centreOff   = 1.0   // mm
	backlashOff = 0.15  // mm more than planned
	lagOff      = 0.3   // mm, or what the formula leaves open
	leadOff     = 0.5   // mm
	returnsOff  = 0.1   // mm, standard deviation
	gapOff      = 1.0   // mm: the step by which pieces are brought nearer
	heightOff   = 0.02  // share of the height: what a tape measure to a lens leaves open
	asideOff    = 20.0  // mm
	tiltOff     = 3.0   // deg
)

// enlarged is by how much what is left at each place is drawn larger than the board.
const enlarged = 50.0
