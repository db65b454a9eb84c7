// SPDX-License-Identifier: Apache-2.0

package likelihood

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

// Shares of what a pixel of board can be taken from: the last picture, the
// bare board as remembered, and, the rest, the even colour of its ground, which knows
// neither grain nor shadows and so is right where a shadow went away. Where a piece has
// laid the board open the last picture does not show it: the others count alike.
const (
	stillLast, stillBare = 0.65, 0.20
	staysLast            = 0.93 // and of a piece: the rest is the colours of its side
)

// IndependentShare is the share of a pixel that counts as independent evidence: noise,
// coding and mistakes of the models are shared by neighbours. Set by hand on
// rendered games so that beliefs come true.
const IndependentShare = 0.10

// MostNats caps how strongly one pixel can speak, in nats, so that a few
// glints cannot outvote a piece.
const MostNats = 6.0

// Strange is how many times the density of an outlier a pixel must reach to
// count as just what was expected; a changed shadow stays below.
const Strange = 20.0

// depthExtra is how many arrivals on one pixel are kept: two pieces that arrive
// side by side overlap; a third does not happen in a move.
const depthExtra = 3
