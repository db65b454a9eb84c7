// SPDX-License-Identifier: Apache-2.0

package light

import "boardhand/internal/sight/pixels"

// The tuned numbers of this package: value, unit, meaning, and how they were found where
// that is on record.

// CellSide is the side of a cell, pixels.
const CellSide = pixels.CellSide

// Window is the side of the neighbourhood, in squares, whose middle change is the light's.
// A piece with what leans out of its square covers less than half of it, two of them on
// neighbouring squares hardly so; a shadow narrower than half of it is not followed. At 0.8
// a piece counts as light, at 3 the corners of shadows are lost.
const Window = 1.6

const (
	// Changed is the change of the brightness logarithm from which a pixel is in another
	// light: four times the noise of a small camera, a quarter of a lamp's own shadow.
	Changed = 0.15
	// changedShare is the share of the board in another light from which that is looked
	// into: a piece moved makes 0.02, castling 0.04.
	changedShare = 0.05
	// brighterShare is the share that is brighter from which reflections are looked for: a
	// square makes 0.012.
	brighterShare = 0.012
)

// How much a cell's change says of the light. Only ratios matter.
const (
	weighPlain   = 0.10  // no structure: it may be anything, but mostly is the board
	weighUnlike  = 0.01  // other structure than was there: something covers it
	weighFull    = 0.025 // at the camera's upper end: it became brighter, but by how much is not known
	leastSupport = 0.02  // of the window's cells: with less the light there is not known
)

// Structured is by how much the mean square slope of the brightness exceeds what noise
// makes of it where there is structure to compare. Noise alone makes 1; at 2 the
// camera's coding counts as structure.
const Structured = 4.0

// alike is the correlation of two structures, over a neighbourhood of neighbourhood cells
// to each side, from which they are one: noise alone makes 0.1.
const alike, neighbourhood = 0.4, 2

// inlier is how far a cell's change may lie from the middle one, in logarithms, and still
// be the same light: twice what noise and grain make of a cell. Where neighbouring cells
// differ by more a shadow ends: each pixel there takes the light of the cell that it fits.
const inlier = 0.12

// gamma is the power by which cameras code light.
const gamma = 2.2

// leastLight is the least that is left under a reflection, of 255: black wood.
const leastLight = 0.2

// greyUnit is how much light, of 255, is one for the running median: its bins are 3 levels wide.
const greyUnit = 80

// leastVeil is the least light on top, of 255: grain and noise make half of it.
// veilInlier is the share of it by which cells may differ and be under the same.
const leastVeil, veilInlier = 6, 0.2

// strongVeil is light on top, of 255, of which a first picture is freed: the sheen of a lamp
// on a matt board has 25, a window's pane on a polished one 70 and more.
const strongVeil = 40

// drownedLeast is how much must be brighter in one piece to be no piece, in squares: a king
// and a rook that come side by side make one.
const drownedLeast = 1.5

// greyest is the least share of the strongest channel's light that the weakest has in a
// lamp's or a window's reflection.
const greyest = 0.4

// washedOut is the contrast left under a reflection below which nothing is told any more.
const washedOut = 0.2

// surelyAlike is the correlation from which what is seen is what was there: a finger that
// covers half of a neighbourhood leaves less.
const surelyAlike = 0.6

// Tint is how far both log colour ratios together may lie from those of grey light on top
// of what was there, or may change with a lamp: those of a house differ by as much.
const Tint = 0.12

// Where the cells around one surely show what they did, their light is followed closer: so
// many cells to each side, with so much weight a cell.
const attestedCells, attestedSupport = 3, 0.35

// cliff is by how much the brightness logarithm of neighbouring cells differs where light
// ends so suddenly that a pixel there may have any share of it.
const cliff = 0.35

// veilSigma is how unsure the light of a reflection is, as a share of it, σ, once it has
// been brought as near to what was there as its amount may differ.
const veilSigma = 0.02

// amountSpread is by what share a reflection's light may differ from that of its cell: as
// much as slats and soft edges make of it.
const amountSpread = 0.3

// mostWeight is by how much a density may count more under a reflection: that leaves a
// tenth of the contrast.
const mostWeight = 1000

// darker is the share of a reflection's light below which a pixel does not lie under it:
// noise and the softness of its edge take less away.
const darker = 0.85

// votersAround is how many cells to each side have a say in whether something plain is a
// reflection: as far as there are lines of squares.
const votersAround = 8

// What was there is seen through a reflection if, of the slopes in the cells within throughAround
// of one to each side, a square and a half, at least throughShare goes the same way, and of those
// in all that hangs together too. Panes seen through slats leave 0.3 to 0.8, hands from -0.3 to 0.2.
// Doubled, slats are taken for a hand again; halved, parts of hands are lost.
const throughAround, throughShare = 6, 0.3
