// SPDX-License-Identifier: Apache-2.0

package frame

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// smallTurn is the angle in radians below which the rotation vector's
// coefficients come from their Taylor series: at 1e-4 the first neglected
// term, θ⁴/120, is below 1e-18, less than one rounding step. Doubled, it still is.
const smallTurn = 1e-4

// orthogonality is how far RᵀR may be from the identity for Vector to accept
// R: 1e-6 is the error of a matrix printed with seven digits. Doubled, matrices that
// were typed in with six digits pass now and then.
const orthogonality = 1e-6
