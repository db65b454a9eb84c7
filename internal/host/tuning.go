// SPDX-License-Identifier: Apache-2.0

package host

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// handPoll is how often it is looked whether the hand is free: below what a person at
// a screen notices (a tenth of a second, common practice). Doubled it is still below.
const handPoll = 40 * time.Millisecond

// mostWanted is how many acts get a button each; more than that a visitor does with
// one button. Reasoned: castling takes two, a promotion that takes three. Doubling it
// makes the page longer.
const mostWanted = 3

// patienceWithUnseen is how many pictures may pass without a trace of what the hand did
// before a way back is offered: five times the two in a row that the table believes.
// Reasoned; doubled, a visitor waits twice as long for the offer.
const patienceWithUnseen = 10
