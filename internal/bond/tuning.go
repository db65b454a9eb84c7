// SPDX-License-Identifier: Apache-2.0

package bond

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// Common are the lengths that are laid when nobody says which ones there are, with
// their costs in tenths of the common element of four units. Common practice, no
// source: they are such that fours are laid and others close a run. Doubled together,
// nothing changes; one alone doubled, it is laid less.
var Common = []Length{{4, 10}, {6, 18}, {8, 24}, {3, 12}, {2, 13}, {1, 14}}

// goodOverlap is the least distance of joints, units, that is tried before one unit
// is put up with: half an element of four, the trade's running bond. Doubled, the
// overlaps are deeper and closing elements more.
const goodOverlap = 2

// deepOverlap is the distance of joints, units, beyond which deeper is no better.
// Reasoned: half of the longest common element.
const deepOverlap = 4

// costScale keeps overlaps from ever outweighing cost: more than the joints of a run
// times deepOverlap. Doubled, nothing changes.
const costScale = 1 << 16
