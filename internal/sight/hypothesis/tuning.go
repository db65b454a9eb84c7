// SPDX-License-Identifier: Apache-2.0

package hypothesis

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// Followed is how many nats a hypothesis may lie behind and still be worth a second look.
const Followed = 25

// Prior beliefs before the picture is looked at. They matter only when the
// picture hardly decides: a picture of a finished move or of no change is
// usual, one of a half-done move, which has the rest, rarer, one of a broken rule rare.
const (
	priorSame  = 0.40
	priorMoves = 0.45
	// PriorStray is the prior of one piece standing where no rule puts it, for
	// each of the 64 squares.
	PriorStray = 1e-2 / 64
)

// missed is how often the picture that would have shown a ply is missing or tells nothing:
// a folder from which each tenth picture was lost has it. Doubling it changes 0.7 nats.
const missed = 0.1

// seenKind is the belief from which a promotion is given out, by the picture alone, no kind being likelier
// before: three to one. A knight of the colour of its square was a queen at 0.97 by nine queens in ten,
// and hardly more than 0.5 by itself; of 52 promotions in sets kept apart it asks about one that was
// right. Doubled, each promotion is asked about.
const seenKind = 0.75
