// SPDX-License-Identifier: Apache-2.0

package limits

// The numbers of this package that were set by hand: unit, meaning, how each
// was found, and what doubling it does, measured or reasoned.

const (
	// lookOut is how far from the magnet pieces are looked at, metres: beyond, no
	// pair of magnets that a rig may have moves one. Doubled, nothing changes
	// but the time it takes (measured on the default rig).
	lookOut = 60e-3
	// gripShare is how much of the best acceleration that the magnet could give
	// a piece is used along the path, and across it on an arc: half, so 0.71
	// together. Common practice, no source. Doubled, nothing changes on the default
	// rig, where the axes bind first (measured); heavy pieces would slip (reasoned).
	gripShare = 0.5
	// astrayShare is how far from the middle, as a share of the square, a carried
	// piece may come to rest: what looks placed on purpose. Common practice, no
	// source. Doubled, nothing changes on the default rig, where the axes bind first
	// (measured).
	astrayShare = 0.03
	// slowest is an acceleration below which a piece's own swing no longer counts
	// beside sticking and sliding friction, m/s². Common practice, no source.
	// Doubled, nothing changes on the default rig (measured); pieces whose frictions
	// differ much would swing farther (reasoned).
	slowest = 0.3
	// crawl is the least speed worth calling motion, m/s. Doubled, nothing changes
	// but for motors that hardly turn (reasoned).
	crawl = 1e-3
)

// typical is the way for which the quickest speed and acceleration of a motor are
// chosen, m: three squares of 40 mm. Reasoned; doubled, speed counts for more and
// acceleration for less.
const typical = 0.12

// reserves are what a motor should have over what it needs, best first: half
// as much again, since motor lines are good to a tenth and friction grows with
// dust; a weaker motor is driven with what it has. Common practice, no source.
// Doubled, weak motors are driven with less, and carries take longer.
var reserves = [...]float64{1.5, 1.25, 1}

// gentler are the shares of the acceleration that are tried with each reserve:
// a lower one leaves the motor force for speed. Reasoned; finer, a carry is a
// percent quicker at most.
var gentler = [...]float64{1, 0.7, 0.5, 0.35, 0.25}

// softest is the share of the jerk down to which a piece is brought to rest more gently,
// in steps of softer. Reasoned: at a fiftieth of the jerk of 12 m/s² the axes are slower
// than at 0.4 m/s². Doubled, axes beyond 12 m/s² carry slower than weaker ones; with steps
// twice as wide axes of 12 m/s² are 0.6 % slower than those of 6.
const (
	softest = 0.02
	softer  = 0.9
)

// steadier is the step by which the acceleration is lowered until a piece comes to
// rest where it should. Reasoned; halved, pieces of sticky bases are carried slower
// than they need be.
const steadier = 0.9
