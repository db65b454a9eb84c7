// SPDX-License-Identifier: Apache-2.0

package assess

import "boardhand/internal/coupling"

// The numbers of this package that were set by hand, each with its unit, its
// meaning and how it was found.

// finest is the coarsest step an axis may have: half the placement error.
const finest = coupling.Placement / 2

// leftOver is the share of backlash that stays when it is taken up from one
// side. Common practice, no source.
const leftOver = 0.25

// mostSeconds is how long a carry across the board may take before the guest
// wonders. Common practice, no source.
const mostSeconds = 20.0

// bend is the radius a moving lead is bent to, metres. Common practice, no
// source: ten times a thin lead's diameter.
const bend = 0.020

// hangError is the share of the picture's short side kept free for a camera
// hung by eye: 8 mm sideways and 1.5° at 600 mm. Common practice, no source.
const hangError = 0.03

// Pixels a square should have for the reader, least and comfortable: a foot
// takes about half a square. Common practice, no source.
const leastPixels, goodPixels = 24.0, 40.0

// mostHidden is the share of a piece that may be hidden before the reader must
// ask: half of a pawn still shows its colour. Common practice, no source.
const mostHidden = 50.0

// leastPress keeps the magnet at the board, newtons: the weight of a light
// magnet and its cap. mostTravel is how far a small spring can be pressed,
// metres. Common practice, no source.
const leastPress, mostTravel = 0.03, 0.015

// mostFixes is how many ways out are named for one line: what fits a screen.
const mostFixes = 3

// mostSteps bounds how far a knob is turned, steps: a bound of work.
const mostSteps = 1 << 16

// pushStep is the step, metres, in which places of a pushed neighbour are looked at.
// How it was found is not recorded.
const pushStep = 1e-3

// settleShare is how far off the middle a piece may come to rest, as a share of
// the square: beyond it looks careless and costs the lanes. Common practice, no
// source.
const settleShare = 0.06

// What no key of the rig file says.
const (
	// doubt is by how much the camera may misjudge where a standing piece's foot
	// is, metres: two standard deviations of a quarter of a millimetre.
	doubt = 0.5e-3
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
