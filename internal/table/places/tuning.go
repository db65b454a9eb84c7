// SPDX-License-Identifier: Apache-2.0

package places

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// ArriveWithin is how far from the middle of a square a piece may stand and still be
// where it belongs, as a share of the square: farther off a
// base stands well over the line. Reasoned. Doubled it would count a piece on the next
// square as arrived.
const ArriveWithin = 0.35

// In a slot a piece must stand nearer: nothing remembers where in its slot it
// stands, so later plans count on the middle.
const (
	// Coped is how far off a middle lanes are planned to cope with, as a share of the
	// square. Pieces that stood in the middle of their slots were measured up to 2.9 mm
	// off (64 pieces, 4 first pictures, the twin with 40 mm squares), so that halving it
	// would have good ones fetched. Doubled, a piece would be left where the next carry
	// beside it touches it.
	Coped = 0.12
	// slotPart is how far off it may stand as a share of the way to the next slot, where
	// slots are close together. Reasoned: two pieces off towards each other keep half of
	// the way between them; doubled they may touch.
	slotPart = 0.25
)

// SlotReach is how near its slot's middle a spot must be to mean that slot, m.
// Reasoned: a plan's spots are exact, and slots are a base apart at least.
// Doubling it changes nothing while slots are more than 8 mm apart.
const SlotReach = 0.004
