// SPDX-License-Identifier: Apache-2.0

package model

import "boardhand/internal/table/places"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// unmeasured is the standard deviation of a piece that no picture has measured, as a
// share of the square: people put pieces within a few hundredths of a square of the
// centre (common practice, no source). Doubled, plans keep wider of such pieces and
// ask a person more often.
const unmeasured = 0.05

// offCentre is how far from its square's centre an own piece may stand before it is
// adjusted, as a share of the square. Reasoned: half of what lanes cope with. Doubled,
// pieces stay where one more such arrival has a lane refused.
const offCentre = places.Coped / 2

// straightEnough is how far off the centre a piece that was adjusted by hand may
// stand, as a share of the square: what careful hands do (4 %, common practice, no
// source), and half as much again. Doubled, a person's work is accepted that the plan
// then refuses.
const straightEnough = 0.06

// ElbowRoom is how near a slot a piece may stand askew for the slot to be used, in
// distances between slots. Such pieces have pushed one another, so each is at least one
// distance wide; half as much again is a base that is half as wide again. Doubled,
// three slots more stay empty on either side of each.
const ElbowRoom = 1.5
