// SPDX-License-Identifier: Apache-2.0

// Package nats keeps apart what the reader counts in nats, natural logarithms of
// probabilities: what is believed before a picture, what a picture says, and what is
// believed after it. They mix only by the rules below.
package nats

import "math"

// LogPrior is the logarithm of a probability before the picture is looked at.
type LogPrior float64

// LogLikelihood is the logarithm of the probability density of a picture, given exactly
// which pieces stand where; less that of nothing changed.
type LogLikelihood float64

// LogEvidence is a log-likelihood with the prior of the places at which pieces stand: it
// speaks for a board with its pieces at these places.
type LogEvidence float64

// LogPosterior is evidence with the prior of the board: up to a constant that all
// hypotheses on one observation share.
type LogPosterior float64

// Probability is a share of 1.
type Probability float64

// Log is a probability as a prior.
func (p Probability) Log() LogPrior { return LogPrior(math.Log(float64(p))) }

// With is a likelihood with the prior of a place.
func (l LogLikelihood) With(place LogPrior) LogEvidence { return LogEvidence(l) + LogEvidence(place) }

// With is evidence with the prior of one more place.
func (e LogEvidence) With(place LogPrior) LogEvidence { return e + LogEvidence(place) }

// Posterior is evidence for a board with the prior of that.
func (e LogEvidence) Posterior(board LogPrior) LogPosterior {
	return LogPosterior(board) + LogPosterior(e)
}

// Without is the evidence in a posterior, the prior of the board taken out.
func (p LogPosterior) Without(board LogPrior) LogEvidence {
	return LogEvidence(p) - LogEvidence(board)
}

// With is a posterior with a further prior.
func (p LogPosterior) With(further LogPrior) LogPosterior { return p + LogPosterior(further) }

// Impossible is what nothing is less likely than.
func Impossible[T ~float64]() T { return T(math.Inf(-1)) }
