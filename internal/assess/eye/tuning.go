// SPDX-License-Identifier: Apache-2.0

package eye

import "math"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// headShare is the width of a piece's head over its base. Common practice, no
// source. Doubled, nearly every piece leans over its edge (reasoned: a head would
// be wider than its base).
const headShare = 0.6

// How far a camera hung by hand may be off, each way at most: beside its place and in
// height, m; tilted and turned about its axis, rad; its published angle as a share; the
// middle of its picture, px. Common practice, no source: a shelf bracket set by eye, a
// spirit level on a small housing. Doubled, cameras must hang a tenth higher.
const (
	hungAside, hungHigh = 0.008, 0.012
	hungTilt, hungTurn  = 0.026, 0.035
	hungAngle           = 0.02
	hungMiddle          = 8
)

// hungRounds is how often the height is worked out anew: what is left free is a tenth
// of it at most, so that each round brings a digit.
const hungRounds = 12

// wideFrom is the angle across beyond which a lens is not taken as ideal, rad: 90°.
// Common practice, no source: beyond it shops sell lenses that bend. Doubled, none is.
const wideFrom = math.Pi / 2

// axisParts is how many places of a piece's axis are looked at for what hides it.
// Doubled, the share hidden is told in sixteenths instead of eighths.
const axisParts = 9
