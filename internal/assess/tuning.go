// SPDX-License-Identifier: Apache-2.0

package assess

import "boardhand/internal/coupling"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does. The package's golden text shows what a change of
// one does to the example rigs.

// finest is the coarsest step an axis may have: half the placement error.
const finest = coupling.Placement / 2

// leftOver is the share of backlash that stays when it is taken up from one
// side. Common practice, no source.
const leftOver = 0.25

// mostSeconds is how long a carry across the board may take before the guest
// wonders. Common practice, no source.
const mostSeconds = 20.0

// hungLeast and hungWell are the standard deviations of a camera's hanging that must, and
// should, be left free around the field. On 2,000 simulated machines of the built-in rig
// the whole field is seen from the limit on in 71 of 100 and from where it has
// reserve on in all (TestHungByEyeTheFieldIsSeen).
// Doubled, cameras hang higher, and squares have fewer pixels.
const hungLeast, hungWell = 1, 2.5

// Pixels a square should have for the reader, least and comfortable: a base
// takes about half a square. Common practice, no source.
const leastPixels, goodPixels = 24.0, 40.0

// How far a fixed focus may blur, as a share of a square: from a tenth on edges are
// as wide as `camera` calls blurred, 4.5 pixels of 71. Common practice, no source. Doubled, bases run into one another.
const mostBlur, easyBlur = 0.1, 0.05

// mostHidden is the share of a piece that may be hidden before the reader must
// ask: half of a pawn still shows its colour. Common practice, no source.
const mostHidden = 50.0

// leastPress keeps the magnet at the board, newtons: the weight of a light
// magnet and its cap. mostTravel is how far a small spring can be pressed,
// metres. Common practice, no source.
const leastPress, mostTravel = 0.03, 0.015

// settleShare is how far off the middle a piece may come to rest, as a share of
// the square: beyond it looks careless and costs the lanes. Common practice, no
// source.
const settleShare = 0.06

// What no key of the rig file says.
const (
	// offsetsTo is how far out forces are looked at, metres: the range for which they
	// were checked.
	offsetsTo = 0.08
)

// A table this small interpolates to 1e-4 of the largest pull (tested) and is
// made in a hundredth of a second.
// Gaps and offsets, in number.
const tableGaps, tableOffsets = 26, 76

// The gaps for which the forces were checked, mm.
const leastGap, mostGap = 0.5, 40.0

// The reserve that a line must have to pass without a warning, over its limit or as a
// share of it. Common practice of makers, no source: parts differ from their papers,
// and age. A verdict of fail does not depend on them; doubled, most rigs are warned of.
const (
	nearLimit    = 0.9  // of a most that steps and resting errors keep
	easyForce    = 1.5  // times the force that an axis needs
	easySkew     = 0.5  // of the placement error
	easyBacklash = 0.75 // of the most backlash
	easySeconds  = 0.8  // of the longest carry
	easyHidden   = 0.6  // of the most that is hidden
	easyCurrent  = 1.1  // times what is drawn
	easySteel    = 0.5  // of what holds against the pull of steel
	easyWeight   = 50   // % of a piece's weight that the raised magnet leaves it
)

// How far over its rated voltage a dc motor may be run, as a share of it: beyond the
// first it is warned of, beyond the second refused: 44 % more heat at stall. Plug-in
// supplies are true to a twentieth. Common practice, no source. Doubled, motors burn.
const easyOver, mostOver = 1.05, 1.2

// overFloor is how far the carriage is to stay over the floor, mm: what leads, screw heads
// and a floor that is not flat take. Common practice, no source. Doubled, boxes are higher.
const overFloor = 3.0

// leastRest is on how much of a wall a sheet must lie, mm: half of a thin panel. Common
// practice, no source. Doubled, no sheet lies on panels of 6 mm.
const leastRest = 4.0

// lightSheet is the density of a board whose mass is not given, kg/m³: plywood, the lightest
// of what boards are cut from; MDF has 750, acrylic 1190. Common practice, no source.
// Doubled, springs may press twice as hard.
const lightSheet = 600.0

// weightStep is the step, metres, in which the place where a piece is lifted most is
// looked for. Doubled, it is found up to half a millimetre off.
const weightStep = 0.5e-3

// spareShare of bricks comes on top for what splits or rolls away. Common practice, no
// source.
const spareShare = 0.05

// offGrid is how far off the bricks' grid a wall may be before it is said, mm: less than
// a brick gives.
const offGrid = 0.1

// leastSigmas and wellSigmas are the standard deviations of its builds that a line must, and
// should, have in reserve: 19 of 20 builds and 99 of 100 have it, by the normal distribution
// (NIST/SEMATECH e-Handbook, 1.3.6.7.1: 0.95 at 1.645, 0.99 at 2.326). A dozen lines that all
// just pass leave nine machines of ten. Doubled, no rig with magnets of a usual size passes.
const leastSigmas, wellSigmas = 1.645, 2.326

// alike is the ratio of masses within which pieces count as alike, when the worst of them is
// asked for: a tenth of the mass is about a standard deviation of what a base's friction
// differs by. Grip and resting places take all pieces as they are instead. Found on machines
// near their limits (yield, TestVerdictsAgreeWithBuilds).
const alike = 1.1

// deepestDrop stands for a drop that is nowhere enough, metres: the largest looked for.
const deepestDrop = 0.06

// farthestJump is up to how many standard deviations a jump of the safe distance is looked
// for: one machine in 30,000. jumpStep is how finely. Doubled, the one does nothing to a
// verdict; with the other a machine within a fifth of one of a limit may fall on the other
// side of it.
const farthestJump, jumpStep = 4.0, 0.1
