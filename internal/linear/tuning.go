// SPDX-License-Identifier: Apache-2.0

package linear

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// The damping starts gentle, falls by ten after a success and rises by ten
// after a failure (Marquardt 1963). The factor doubled, a search takes a step more or
// less and ends at the same place.
const (
	firstDamping  = 1e-3
	dampingFactor = 10.0
	mostDamping   = 1e12
)

// nearZero stands for a residual of nothing, in standard deviations: below it
// the weight is one anyway.
const nearZero = 1e-9

// pivotFloor is the least pivot of a scaled positive definite matrix (unit
// diagonal) taken for other than zero: a thousand rounding steps. Doubled, matrices
// that are singular but for a digit are refused sooner.
const pivotFloor = 1e-13
