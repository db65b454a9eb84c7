// SPDX-License-Identifier: Apache-2.0

package ranking

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// drawn is of how many rigs builds are drawn: what the target of the search's time allows.
// Doubled, ranking takes twice as long and finds the same first rig on the example.
const drawn = 50

// early is how many of them are looked at whatever comes out; the others are then cheaper
// than the best of these. Reasoned; doubled, none is left for that.
const early = 30

// Builds of each rig unless more are asked for, and sureTimes as many of those that may be the
// first: their share is known to 0.6 % and 0.2 % where 99 in 100 work. seed is that of all of
// them, so that two rigs are compared on the same builds. Doubled, shares are known 1.4 times
// as well and it takes twice as long.
const Builds, sureTimes, seed = 300, 20.0 / 3, 1

// MostBuilds bounds the builds of each rig: a day's work for all. Doubled, two days.
const MostBuilds = 100_000

// yieldStep is what shares of builds are rounded to before they are compared, timeStep the
// longest carry, s: what a maker would notice. Doubled, cheaper rigs come first.
const yieldStep, timeStep = 0.005, 0.1

// leaders is how many rigs of the front of the list are judged by more builds, and refined
// of them by other speeds, accelerations, drops and preloads. Doubled, each takes twice as
// long.
const leaders, refined = 6, 2

// ample is the reserve, standard deviations, beyond which more is worth nothing: one build
// in 700 fails there. It is what a refined rig keeps. Doubled, refined rigs are slower.
const ample = 3.0

// tries is how often a refinement may judge a rig. Doubled, carries get a little shorter.
const tries = 14

// strides are the first and the last step of a refinement, in steps of the knob. Doubled,
// it goes farther and stops coarser.
const longStride, shortStride = 8, 2

// named is how many tolerances are named for a rig, and mostTold the largest reserve told as
// a number, standard deviations: no budget is known better.
const named, mostTold = 3, 10

// mostFront is how many of the front are printed: what fits a screen.
const mostFront = 12
