// SPDX-License-Identifier: Apache-2.0

package remedy

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// mostFixes is how many ways out are named for one line: what fits a screen.
const mostFixes = 3

// mostSteps bounds how far a knob is turned, steps: a bound of work.
const mostSteps = 1 << 16

// mostOnward is how many places beyond the first that mends a line are looked at for one
// that breaks nothing, each twice as far as the last: a bound of work, a tenth of a second
// each where magnets change. Doubled, one more change in a hundred is clean (reasoned).
const mostOnward = 6

// mostPairs is how many second knobs are tried, for a line that no single one mends
// cleanly: a bound of work, some tenths of a second each.
const mostPairs = 8

// farthest is how many steps the first knob of a pair is turned at most where neither
// mends the line alone: a bound of work.
const farthest = 64

// thin is the share of its margin that a line must lose to be told of beside a change:
// below it nobody would look again. mostThinner is how many of those are named, in number.
// Doubled (the share), none is; common practice, no source.
const thin, mostThinner = 0.5, 2

// noted is the change of a value or limit, as a share, from which a way out is said to
// change it: what three digits show.
const noted = 1e-3
