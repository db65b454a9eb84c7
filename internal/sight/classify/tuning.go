// SPDX-License-Identifier: Apache-2.0

package classify

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// leaning is how far from the camera's foot point, in squares, pieces must stand to
// be seen as those on the last ranks are: leaning, not from straight above.
const leaning = 2.5

const (
	// headGain is how much surer heads are than they say: the network learnt from
	// crops worse than those it gets. Of 5499 officers in ray-traced games that it
	// did not learn from, and of the promoted among them, 2 foretold the kinds best.
	headGain = 2.0
	// unknownMakeCost is how many nats the known pieces must speak against a make of pieces
	// that the network knows before nothing is believed of their heads.
	unknownMakeCost = 4.0
)

// contradicting is the probability below which one place contradicts what all of them
// say together.
const contradicting = 0.05

// kindShare is how much of the evidence of the outlines between two kinds of piece
// on one square counts: they are generic, and sets differ from them by as much as
// a knight differs from a bishop: eight nats for the wrong one have been seen.
const kindShare = 0.3

// undecided is the least doubt, shared by all, that stays on a move with contested
// kinds: more than any answer may have.
const undecided = 0.15
