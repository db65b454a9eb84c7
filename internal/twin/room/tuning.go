// SPDX-License-Identifier: Apache-2.0

package room

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// How people stand pieces that are out of play on the table. Common practice, no
// source.
const (
	perRow     = 8     // pieces a row; doubled, the ends of rows are out of the picture
	shelfPitch = 1.1   // squares from one to the next; doubled, a second row is out of the picture
	shelfGap   = 0.015 // m from the machine to the nearest, besides what its rim hides
)

// leastHeight is the least height of a camera, m, so that what the rim hides stays
// finite; no rig hangs it lower.
const leastHeight = 0.1
