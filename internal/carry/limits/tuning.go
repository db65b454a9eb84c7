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
