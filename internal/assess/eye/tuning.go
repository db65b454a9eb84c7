// SPDX-License-Identifier: Apache-2.0

package eye

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// headShare is the width of a piece's head over its base. Common practice, no
// source. Doubled, nearly every piece leans over its edge (reasoned: a head would
// be wider than its base).
const headShare = 0.6

// axisParts is how many places of a piece's axis are looked at for what hides it.
// Doubled, the share hidden is told in sixteenths instead of eighths.
const axisParts = 9
