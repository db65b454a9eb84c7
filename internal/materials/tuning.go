// SPDX-License-Identifier: Apache-2.0

package materials

import "boardhand/internal/unit"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does. Where one stands in for a word that the files lack,
// the list's notes say so.

// sameSize is the difference of two lengths, metres, below which they are of one part:
// finer than parts are sold. Doubled, nothing changes for common sizes.
const sameSize = 0.05e-3

// Panels. Common practice, no source. Kerf or edge doubled, a tightly filled sheet
// becomes two.
const (
	sawKerf   = 3e-3 // m: of a hand-held or table saw's blade
	cardKerf  = 1e-3 // m: between two rings cut with a knife or a laser
	sheetEdge = 5e-3 // m: kept free around a stock sheet
	floorDeep = 6e-3 // m: floor under walls of bricks
)

// panelSizes and cardSizes are stock sheets that shops have, where the stock file
// names none. Common practice, no source.
var (
	panelSizes = [][2]unit.Length{{0.600, 0.400}, {0.800, 0.600}, {1.200, 0.600}, {1.250, 0.800}, {2.500, 1.250}}
	cardSizes  = [][2]unit.Length{{0.297, 0.210}, {0.420, 0.297}, {0.700, 0.500}}
)

// cardDeep is the thickness of grey board, metres. Common practice, no source.
const cardDeep = 1e-3

// pocketPlay is by how much a pocket is wider than its magnet, and ringWall the
// narrowest wall around it, metres: a magnet is some 0.1 mm off its size, a narrower
// wall tears. Common practice, no source.
const pocketPlay, ringWall = 0.2e-3, 1e-3

// Racks where the stock file names none: on bricks ten teeth, at module 1 four units
// of 8 mm long (from memory); else pieces of 250 mm. Doubled, half as many are needed.
const (
	brickRack = 10      // teeth
	longRack  = 0.250   // m
	smallRack = 32.1e-3 // m: pieces up to this roll away and get spare ones
)

// Belts and screws are sold in these lengths, metres, where the stock names none.
// Common practice, no source.
var (
	beltSizes  = []unit.Length{1, 2, 5, 10}
	screwSizes = []unit.Length{0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.8, 1, 1.2, 1.5, 2}
	guideStep  = unit.Length(0.05) // guides are cut to whole steps
)

// leadSizes are lengths of ready-made leads, metres, where the stock names none.
// Common practice, no source.
var leadSizes = []unit.Length{0.25, 0.5, 1, 1.5, 2, 3, 5}

// A lead that the rig file does not name: fixed way and slack, metres, as in the file
// that `boardhand new` writes.
const leadRoute, leadSlack = 150e-3, 60e-3

// supplyLead is the lead that a plug-in supply comes with, metres. Common practice, no
// source.
const supplyLead = 1.5

// supplySizes are ratings of plug-in supplies, A. Common practice, no source.
var supplySizes = []unit.Current{0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 15, 20}

// spareRings of each kind come on top: a torn one. Common practice, no source.
const spareRings = 1

// Fasteners and glue. Common practice, no source; doubled, a bag or tube more is bought.
const (
	screwsDC      = 2       // of a dc motor to its mount
	screwsStepper = 4       // of a stepper's flange
	cornerPitch   = 50e-3   // m: between screws of a corner, at least two
	edgePitch     = 100e-3  // m: between screws of the floor
	rackScrews    = 2       // a piece of rack on panels
	tiePitch      = 150e-3  // m: between cable ties
	glueFilm      = 0.2e-3  // m: between glued faces
	glueWaste     = 2       // times what stays in the joint
	mlPerCubic    = 1e6     // ml in a cubic metre
	spareScrews   = 0.1     // share of screws that get lost
	boomOver      = 100e-3  // m: of the boom's upright beyond the camera
	boomArm       = 1.1     // of the way from a wall to the field's middle
	stickOut      = 0.05e-3 // m: what a magnet may stick out of its layers of card
)

// What holds the board and the lift. Common practice, no source.
const (
	blockSide  = 12e-3  // m: of a block that a board screw goes into; doubled, few machines have room for it
	blockDeep  = 30e-3  // m: its height, three times a screw's way in; doubled, nothing changes
	blockPitch = 200e-3 // m: between board screws at most; doubled, a thin board lifts between them
	boardHole  = 3.2e-3 // m: clearance of a 3 mm screw
	plateHole  = 3.2e-3 // m: of an M3 screw, fine series of ISO 273
	plateEdge  = 5e-3   // m: from the plate's edge to the middle of a hole; doubled, a small plate's holes meet its cup
	cupWall    = 1e-3   // m: of the cup that holds the drive magnet
	cupPlay    = 0.4e-3 // m: by which the cup's passage is wider
	trapdoor   = 1.2    // times the widest base
)
