// SPDX-License-Identifier: Apache-2.0

package evidence

import "math"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// sureOdds are the odds, to one, from which a single square is believed against what
// is expected there; sureNats are the same as a log-likelihood ratio, in nats. How
// they were found is not recorded. Doubling the odds makes the machine ask a little
// more.
const (
	sureOdds = 10
	sureNats = math.Ln10
)

// leastShare bounds what one square may say against a board, as a probability: the
// models behind it are wrong about once in a thousand squares (measured on the twin).
// Doubling it weakens each square by 0.7 nats.
const leastShare = 1e-3

// plyCost is the prior of one more ply, in nats: of some thirty moves one. Reasoned;
// doubled, a guest's quick answer is believed only where its squares are seen plainly.
const plyCost = 3.4
