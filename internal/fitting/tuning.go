// SPDX-License-Identifier: Apache-2.0

package fitting

// The numbers of this package that were set by hand: by how much readings are off at one
// standard deviation. Common practice, no source. Doubled, what is told is twice as
// uncertain where readings agree; where they do not, their scatter counts.
const (
	forceSigma  = 0.01   // N: a kitchen scale that shows grams
	forceShare  = 0.01   // of the reading
	gapSigma    = 0.1e-3 // m: spacers of card and sheet
	offsetSigma = 0.3e-3 // m: a rule laid beside a piece
	tiltSigma   = 0.0087 // rad, half a degree: an angle by rule or telephone
)
