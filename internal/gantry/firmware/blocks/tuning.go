// SPDX-License-Identifier: Apache-2.0

package blocks

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// tiny is what keeps divisions finite, mm or mm/s: far below one step. Doubled,
	// nothing is seen.
	tiny = 1e-9
	// soon is a time that counts as none, s: rounding leaves less. Doubled, nothing
	// is seen.
	soon = 1e-6
	// straightOn is the cosine from which a corner counts as none: it is taken at
	// the nominal speed. From memory of the open firmware; doubling 1−it changes
	// speeds that are capped by the nominal speed anyway.
	straightOn = 0.999999
)
