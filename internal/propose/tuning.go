// SPDX-License-Identifier: Apache-2.0

package propose

import "boardhand/internal/unit"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// keep is how many proposals a search remembers: more than anybody looks at. Doubled, a
// search takes more memory and prints the same.
const keep = 200

// marginStep is what margins must differ by for one rig to be called better, as a share of
// a limit: forces are good to 15 % (see coupling), which is common to all rigs of a search;
// what differs between two is a third of that. Doubled, cheaper rigs come first. timeStep
// is the same of the longest carry, s: what is printed.
const marginStep, timeStep = 0.05, 0.1

// misses is how many near misses are explained, and mostFront how many of the Pareto
// set are printed: what fits a screen.
const misses, mostFront = 3, 12

// mostCandidates bounds a search; more would not be looked at in a day.
const mostCandidates = 1_000_000_000

// neodymium is the density of sintered magnets, kg/m³: makers' tables.
const neodymium = 7500

// rackShare is the efficiency of a rack or belt that replaces a screw: common practice,
// no source. Halved, motors seem to stall that do not.
const rackShare = 0.9

// What a rig file lets the magnets in pieces be at most, and a piece weigh: the limits of
// pieces.magnet and pieces.*.mass in package rig, as quantities.
var (
	widestFoot, thickestFoot = unit.MM(40), unit.MM(30)
	lightest, heaviest       = unit.Grams(0.5), unit.Grams(300)
)

// overrun is how far a magnet is taken to run past a square, where a box is made as needed:
// leads of all rigs that pass lie within it (1 to 3 mm). Doubled, boxes get 5 mm larger.
var overrun = unit.MM(4)
