// SPDX-License-Identifier: Apache-2.0

package magnet

// The numbers of this package that were set by hand: how finely sums and integrals are
// taken, and where they end. Ranges, limits of the law and grades stand with their
// formulas and sources.

// Nodes a panel of the force integral gets: enough for the square-root ends of the lens
// area, plus some for each unit of the stretched variable. Chosen by comparison with
// twice as many nodes: the force changes by less than 1e-6 of itself (see the tests).
const (
	nodesFixed   = 20
	nodesStretch = 2.6
)

// The Gauss–Legendre rules kept ready; never changed after start. Doubled, the longest
// panels get more nodes than they need.
const leastNodes, mostNodes = 8, 64

// celSettled is where Bulirsch's iteration stops: the error is its square.
const celSettled = 1e-8

// roundingLevel ends the arithmetic–geometric mean: its next step would change
// the result by the square of this, below double precision.
const roundingLevel = 1e-8

// Default counts of a map's gaps and offsets, and the fewest that the difference
// formulas can use. Halved, the interpolation error, which each map measures of itself,
// grows some sixteenfold.
const (
	usualGaps, usualOffsets = 60, 200
	fewest, mostCount       = 6, 2000
)

// roundingRow lets the ends of the map be asked for despite rounding, rows.
const roundingRow = 1e-9

// Cells tried when the interpolation error is measured: every so many.
const measureRows, measureCols = 8, 9

// Rings and spokes of the sum over each face of the upper magnet: the moment
// settles to 1e-3 for gaps from a tenth of the diameters.
const loadRings, loadSpokes = 16, 48

// faceSteps are the places tried along the radius for the largest field at a face: 1 %
// of that field. probeRings and probeSpokes are the places over the probe's disc.
const faceSteps, probeRings, probeSpokes = 60, 4, 12
