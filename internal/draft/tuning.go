// SPDX-License-Identifier: Apache-2.0

package draft

import "boardhand/internal/unit"

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// The squares that are drafted: the smallest travel set, the largest table.
var leastSquare, mostSquare = unit.MM(25), unit.MM(60)

// laneLeft is what a lane has beyond the widest bases, metres: errors of both places, the
// spread of the lag and a reserve. Reasoned; doubled, pieces get thin.
const laneLeft = 2.0e-3

// Sheets that are sold everywhere, mm; from memory of suppliers' lists.
var sheets = []float64{1.5, 2, 3, 4, 5, 6}

// Discs that are sold everywhere, diameter and thickness in mm; from memory of suppliers'
// lists.
var discs = [][2]float64{{2, 1}, {3, 1}, {3, 2}, {4, 1.5}, {4, 2}, {5, 2}, {6, 2}, {5, 3}, {6, 3}, {8, 2}, {8, 3}, {8, 4}, {8, 5}, {10, 3}, {10, 4},
	{10, 5}, {12, 4}, {12, 5}, {12, 6}, {15, 5}}

// How far, in steps of the lists, a search goes from what is in proportion; farther off
// nothing passed in a sweep over all sizes. Doubled, a draft takes four times as long.
const sheetSteps, discSteps = 2, 4

// Steps, metres, of what is rounded up. Doubled, drops and poles get larger by as much.
const dropStep, heightStep = 1e-3, 10e-3

// hangSpare is how much higher than assess's comfort the camera hangs. Doubled, pixels a
// square get fewer by a twentieth.
const hangSpare = 1.05

// mostRounds bounds the search for drop, reach and height: each settles in two or three.
const mostRounds = 12
