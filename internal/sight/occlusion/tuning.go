// SPDX-License-Identifier: Apache-2.0

package occlusion

import "boardhand/internal/sight/pixels"

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

const bumped = 0.5 // share of the field's cells whose structure is hidden when the camera has moved

// StillMost is how much may look changed, as a share of a square, where nothing was: the coding of a noisy picture invents structure of that
// size, a hand that moves changes several times as much.
const StillMost = 0.25

// changedShade is the change of the logarithm of brightness or colour from which a cell
// looks otherwise.
const changedShade = 0.08

// CellSide is the side of a cell, pixels: cells are asked by their number what light
// explains of them.
const CellSide = pixels.CellSide

const (
	// slopeJitter is the relative change of a slope that registration and focus
	// leave, squared.
	// ×½: the worst offsets +10 %; ×2: +10 %
	slopeJitter = 0.04
)

// structureMost is how many nats the structure at one pixel can speak: a glint or
// a shadow's hard edge must not outvote its neighbours.
const structureMost = 2.0

const (
	// The least evidence a cell, nats, averaged over a window, from which there is
	// structure: of noise alone comes a tenth of it. A hand brings seven or so of new
	// structure, light that fades takes some away. Over a near window more is asked.
	structureLeast, structuredNear = 1.0, 6.0
	// ×½: hands −5 %; ×2: hands +10 %
	hiddenShare, plainShare = 0.1, 0.4 // of that evidence
	// moreLeast is the same for more structure on bare ground, where noise
	// alone makes up to one.
	moreLeast = 2.0
)

// overhang is how much of the field, in squares, what reaches over the edge must hide to be a hand
// though it shows no arm: a piece hides a third at most. Found on a hand over bare wood (1.7) and on
// pieces that are carried along the edge under a low lamp (none; their shadows lie outside). Doubled,
// a hand is noticed later by a finger's length.
const overhang = 0.5

// tintDepth is what a lamp may change of both log colour ratios together, besides light.Tint,
// for each unit that it changes the brightness logarithm.
const tintDepth = 0.3

// noiseSigmas is how many standard deviations a cell's brightness may change between
// two pictures of what lies still; in the dark, structure comes and goes with
// the noise. Calmest holds where there is no noise: a twentieth, in logarithms.
// Doubling either lets a hand pass that moves over ground as bright as itself.
const noiseSigmas, leastNoiseDepth = 5.0, 0.05

// lyingLeast is how much of a square a thing covers that counts as lying on a way: half of
// what the base of a pawn takes of the smallest squares that play. Reasoned; doubled, a
// fallen pawn is run into.
const lyingLeast = 0.12

// standsLeast is the evidence a cell of new structure, nats, from which something stands there: even
// ground brings up to four by noise, a rook in the twin's pictures 20 to 60. Doubled, pieces of
// the colour of their square are seen by their shadows only.
const standsLeast = 10.0

// lyingOn is how many cells of it must lie on the way itself: one may be noise. Doubled, what
// leans off the way and has only its foot there is run into.
const lyingOn = 2
