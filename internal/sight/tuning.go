// SPDX-License-Identifier: Apache-2.0

package sight

import "time"

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// trust is how much belief there is in the models as a whole: where they left
// no doubt, about 99 readings in 100 of ray-traced games were right, and what
// was wrong then was something that no hypothesis foresaw. No belief goes beyond.
const trust = 0.99

// certain is the belief within the models from which a move, or none, is given
// out; below it the reader says unsure and asks. That a move is half done or a
// rule broken needs less: nothing is accepted on it.
const certain, likely = 0.97, 0.9

// many is as many pieces as nobody touches at once: when they look otherwise, a
// lamp did it.
const many = 3

// How often a reading that explains nothing is given again for pictures that look
// the same, before one of them is searched anew; and how much of the board, in
// squares, may have changed meanwhile by more than some logarithm of brightness
// or colour: a piece that moves by a sixth of its base changes more.
const (
	againMost = 3
	againArea = 0.03
)

// Bounds of what is believed of a piece that was lost on the way.
const (
	seekNats   = 15.0 // a piece seen must be this much likelier than none
	seekLeaves = 0.5  // of the smallest base may stay unexplained beside it
	standApart = 0.75 // of the way between pieces that touch: places are measured to a millimetre or two; doubled, none is found beside another
)

// contested is how many nats a move may lie behind no change and the picture still
// count as contested. What is learnt as "no change" hides a move for good, and a
// picture less to learn from costs little: seven nats are a thousand to one.
// In the pictures of the twin without a change the next move is 35 behind.
const contested = 7

// When the reader doubts what it has learnt: after so many pictures without an
// explanation, then twice as many and so on; a hand may rest longer than a
// mistake lasts, against the board as it was before a set-up too. And how much of the board
// may stir meanwhile, in squares.
const (
	stallLawless = 4
	stallHand    = 8
	stallChange  = 1.0
)

// stallRestless is how many times as many pictures it takes where each looks otherwise: as
// under reflections that wander.
const stallRestless = 2

// How long something must lie quite still before it is no hand: in time, and
// in pictures, which may be far apart; in twice as many where they have no time.
const (
	staticTime     = 5 * time.Second
	staticPictures = 3
)

// mostKnown is how many looks of known pieces are kept: those of three first pictures.
const mostKnown = 64

// leastSeen is which share of a piece's pixels must be told of, where a lamp's reflection
// drowns some, for the picture to say whether it stands there. Reasoned: half an outline
// still has a side and a height. Doubled, a speck on a piece has a person asked.
const leastSeen = 0.5

// mostLooks is how many looks of the table in other lights are kept, 20 MB each: with a lamp
// and without it, and one more.
const mostLooks = 2

// mostBeside is how many squares what reaches over the board's rim may cover where a move is
// read past it: a hand that rests there has its fingers on one or two.
const mostBeside = 2

// mostGlimpses is how many pictures since the last accepted position are kept, 4 MB each, and
// asked again what they say of a path of plies: a tenth of a second each.
const mostGlimpses = 3

// recalled is how many hypotheses earlier pictures are asked about, and openHand how many
// squares a hand may cover for a picture to be asked.
const recalled, openHand = 8, 6
