// SPDX-License-Identifier: Apache-2.0

package register

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

const (
	levels        = 3    // halvings of the image: bumps up to some ten pixels
	rounds        = 15   // Gauss–Newton steps a level, at most
	mostKeypoints = 1200 // places compared
	leastEdge     = 0.10 // least step of l to a neighbour for a keypoint
	// Still is how many pixels of motion matter to nobody.
	Still = 0.12
	// Priors of a motion, σ: they only settle what the board cannot tell apart,
	// a small turn from a small shift.
	turnSigma, shiftSigma = 0.03, 0.02
	// residualSigma is the residual of l that counts as agreement.
	// ×½: offsets +89 %, view +304 %, unexplained +454 %; ×2: view −15 %, unexplained +21 %
	residualSigma = 0.06
	// Good is the share of the keypoints that agree when nothing is in the way.
	// ×½: offsets +3 %, view +24 %; ×2: the worst offsets +10 %, view −22 %, unexplained +39 %
	Good = 0.85
	// Some is that share with a hand or a new shadow over the board.
	Some = 0.55
)

// tinyMotion is a motion by which slopes are measured, radians and metres: a tenth of a pixel.
// Steps of a tenth of it change nothing any more.
const tinyMotion = 1e-4
