// SPDX-License-Identifier: Apache-2.0

package line

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// Idle is the margin share of a line that does not apply: it comes last. Any number
// beyond real margins does.
const Idle = 1e3
