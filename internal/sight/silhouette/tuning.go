// SPDX-License-Identifier: Apache-2.0

package silhouette

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// faint is the coverage below which a pixel is not worth a thought.
const faint = 0.02

const (
	Bands     = 3      // heights told apart by colour: base, body, head
	cellStep  = 0.5e-3 // metres on the board plane a cell of an outline: half a pixel
	reachStep = 4e-3   // metres of distance from the camera's foot point between outlines: 0.3 mm of lean
	layers    = 20     // heights tried along a ray
	baseBlur  = 0.5e-3 // σ of the outline at the base: half a pixel's blur
	rim       = 4e-3   // metres around the solid until the soft edge is surely gone
	headBlur  = 0.5e-3 // added towards the head: sets differ by a tenth of the radius or so
)

// depth is how many pieces can hide each other on one pixel and matter.
const depth = 4
