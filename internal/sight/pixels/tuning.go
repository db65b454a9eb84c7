// SPDX-License-Identifier: Apache-2.0

package pixels

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

const (
	// Black is added to every channel (of 255) before the logarithm, so that
	// dark noise stays finite: about the noise of a small camera.
	Black = 8.0
	// grain is the noise of a reduced pixel in levels of 255: what is left of
	// a small camera's 3–5 levels and of the coding after averaging four.
	grain    = 1.6
	logSteps = 4 // entries a level in the table of logarithms
	// penumbra is how many pixels to each side a shadow's edge is even.
	penumbra = 4
	// saturatedFrom is the level of 255 from which a pixel is at the camera's upper end. At 243
	// what structure says of a piece moves by up to 1 nat (likelihood_test.go), light by nothing.
	saturatedFrom = 240
)

// SolidFrom is how many of a place and its eight neighbours must be marked for it to be no line:
// edges, glints and what registration leaves are thin. Doubled, nothing is left of a hand.
const SolidFrom = 6

// Limits of a picture that shows anything at all, in levels of 255 averaged
// over a pixel: a covered lens gives sensor noise only.
const (
	darkest = 10.0 // the brightest hundredth must be above this
	evenest = 3.0  // the brightness must spread more than this, σ
)
