// SPDX-License-Identifier: Apache-2.0

package modal

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// arcMiss and arcShare are how far an arc's end may lie off its circle, mm and as
	// a share of its radius: from memory of the open firmware (0.005 mm and 0.1 %).
	// Doubled, less exact arcs pass.
	arcMiss  = 0.005
	arcShare = 0.001
	// tinyTurn is the angle, rad, below which an arc counts as a full turn: from
	// memory. Doubled, nothing is seen.
	tinyTurn = 5e-7
)
