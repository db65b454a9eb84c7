// SPDX-License-Identifier: Apache-2.0

package person

import "boardhand/internal/frame"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.
// They make the twin's people, not what the machine believes of people.

// Habits of a hand, in seconds and shares of a square: common practice, no source.
// The twin's people have hands of their own, on purpose: were they as exact as
// game.HandShare says, nobody would notice that planner and table believe it. Times
// doubled, more pictures show a hand and games take longer; σ doubled, pieces are
// adjusted after most moves and some lanes are refused.
const (
	reachTime   = 0.55  // into or out of the picture
	fingersTime = 0.25  // down to a piece, or up again
	crossTime   = 0.6   // across the board
	putSigma    = 0.033 // standard deviation of where a piece is put down
	sloppySigma = 0.09  // the same of a careless hand
	adjustSigma = 0.015 // the same of one that sets a piece straight
)

// Where a hand is.
const (
	overhead   = 0.075 // m: how high over the pieces it travels; doubled, its shadow is softer and wider
	hoverHigh  = 0.05  // m more, while it waits over a square
	gripHeight = 0.85  // of a piece's height: where fingers hold it, common practice
	turned     = 0.8   // rad: a piece is put down turned by up to half of it; doubled, knights look anywhere
)

// hoverDrift is how far a hand that waits wanders, m.
var hoverDrift = frame.Point[frame.Board]{X: 0.02, Y: 0.01}

// Habits of a guest at play, in seconds: common practice, no source. Doubled, what they
// are shares of comes twice as often, and games take longer.
const (
	thinkLeast, thinkMost = 1.5, 9.0
	hoverTime             = 1.2
	setOut                = 0.6  // before the hand goes where it was asked to
	secondLook            = 0.8  // before a piece is set straight
	thinksOn              = 0.5  // after an answer, at least
	listening             = 3.0  // to a question, and answering it
	adjustShare           = 0.06 // of moves are followed by setting a piece straight
	sloppyAdjustShare     = 0.5  // of a careless guest's
	hoverShare            = 0.15 // of moves see the hand wait over the board
	illegalShare          = 0.12 // of moves, with the fault
	halfShare             = 0.2  // of moves, with the fault
	secondShare           = 0.12 // of the machine's moves, with the fault, are wished taken back
)

// awayTime is how long a hand is away in the middle of a move, s, and awayLooks how
// many pictures that is when nobody watches in real time: more than the two in a row
// that the table believes. Doubled, half a move is complained of more often.
const awayTime, awayLooks = 2, 3

// How often guests meddle: rare enough that a game gets on, often enough that
// one of 40 plies meets it several times. Doubled, most plies do.
const (
	earlyShare = 0.15 // of the strokes with the magnet up see the early guest reach in
	hastyMost  = 0.4  // s after which they do, at most
	playShare  = 0.4  // of those times they play; else they touch a piece
	thiefShare = 0.15 // of the guest's turns begin at the tray, when something stands there
	swapShare  = 0.5  // of those times the piece goes into another slot
)

// seenAskew is how far off its middle, as a share of the square, a person sees
// at a glance that a piece does not stand right. Reasoned; doubled, people leave
// pieces on the line.
const seenAskew = 0.3

// straight is how near the middle of its square, as a share of the square, a
// piece stands that was set straight: what careful hands do, and half as much again.
// Doubled, people say that it is done when the machine still asks.
const straight = 0.06

// skill of the guest, of 1: overlooks things, so that games end. Doubled, games last
// longer and more are drawn.
const skill = 0.35

// bearing is how often the guest hears the same complaint before they say that
// it is unfounded. Reasoned; doubled, a misread picture holds a game up longer.
const bearing = 2

// Patience is how many pictures long a guest waits for an answer to a move that
// stands on the board before they name it: some five times what a reading takes.
// Doubled, a move that is never seen holds a game up twice as long.
const Patience = 20
