// SPDX-License-Identifier: Apache-2.0

package scene

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// Shows is how surely a pixel must show a piece to count as its.
const Shows = 0.5

// PlacingSigma is how far pieces stand from their squares' centres, σ of each
// coordinate as a share of the square: people set pieces down to a tenth or so.
const PlacingSigma = 0.13

// OwnSquare is how far from its square's middle, as a share of the square, a piece
// can stand and still be that square's: on the line and a little beyond.
const OwnSquare = 0.6

// OnLine is how far from the middle, as a share of the square, a piece's base
// may stand and still count as in the square: beyond, its middle is nearer to
// the line than an eighth of the square, and players would ask as well.
const OnLine = 0.375

// InPlace is how far from a place, as a share of the square, a piece may stand
// and still count as standing there: just inside the lines of its square.
const InPlace = 0.45

// SamePlace is how near two places are that are one, metres: they are measured as well.
const SamePlace = 1e-3

// samples is how many pixels the light is compared by.
const samples = 4e3
