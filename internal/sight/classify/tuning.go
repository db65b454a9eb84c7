// SPDX-License-Identifier: Apache-2.0

package classify

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// leaning is how far from the camera's foot point, in squares, pieces must stand to
// be seen as those on the last ranks are: leaning, not from straight above.
const leaning = 2.5

// upright is how far they must stand at least, in squares, to be compared with at all: below,
// next to nothing of a piece but its top is seen.
const upright = 1.0

// nearShare is how much of a likeness with a piece counts that leans less than that: of 344
// officers in the tuning rooms and promotions sets for which there were such references, 0.7
// foretold the kinds best (0.002 nats a piece; 0.007 with 0.5, 0.061 without them).
const nearShare = 0.7

const (
	// headGain is how much surer heads are than they say: the network learnt from
	// crops worse than those it gets. Of 5499 officers in ray-traced games that it
	// did not learn from, and of the promoted among them, 2 foretold the kinds best.
	headGain = 2.0
	// unknownMakeCost is how many nats the known pieces must speak against a make of pieces
	// that the network knows before nothing is believed of their heads.
	unknownMakeCost = 4.0
)

// mostPawns is how many pawns are looked at for what an exchanged pawn is not: all that
// stand farthest from the camera's foot point tell the same.
const mostPawns = 4

// likeGain is how much surer likeness is than it says: of 35 pieces that pawns became in sets
// never met, 1.4 foretold the kinds best (0.043 nats a piece; 0.056 with 1, 0.044 with 2).
const likeGain = 1.4

// unlikeCost is how many nats the known pieces must speak against likeness before nothing is
// believed of it: more than of heads in general, for it was learnt from solids of all shapes.
const unlikeCost = 12.0

// leastAlike is how many nats a kind can have at least by likeness: beyond, the network has
// never been right.
const leastAlike = -40.0

// unlikeMet is how many nats worse than the middling likeness of the known pieces a piece must be
// like a kind before it is as likely of one that has not been met: of 3500 officers in the tuning
// rooms and promotions sets, some of whose kinds were kept back, those met were foretold with 0.014
// nats and those not met with 0.122; one number for all sets, the network's own, gave 0.004 and 0.188.
const unlikeMet = 3.0

// unlikelyExchange is how many nats two leaning pieces of one side must look more like each
// other's kind than like their own before they are as likely to stand in each other's places: of
// 1989 such pairs in the first pictures of 26 tuning rooms and promotions sets none reached −2, and
// taken for exchanged all but 2 exceed 10, kings and queens apart, of which a third do not. On the
// twin a pawn and a knight near the middle, seen almost from above, had 12: those are not asked.
const unlikelyExchange = 8.0

// contradicting is the probability below which one place contradicts what all of them
// say together.
const contradicting = 0.05

// kindShare is how much of the evidence of the outlines between two kinds of piece
// on one square counts: they are generic, and sets differ from them by as much as
// a knight differs from a bishop: eight nats for the wrong one have been seen.
const kindShare = 0.3

// metShare is how much of it counts where the kinds have been met and may be compared with:
// in games of sets never met whose heights were told wrong by a tenth, outlines were ten
// nats for the wrong kind where the pieces met were as many for the right one.
const metShare = 0.1

// metHeads is how much of what heads say in general counts between kinds that have been met: they
// see the same picture, and of a set never met took a bishop for a queen by seven nats where
// the pieces met said bishop by three.
const metHeads = 0.25

// undecided is the least doubt, shared by all, that stays on a move with contested
// kinds: more than any answer may have.
const undecided = 0.15
