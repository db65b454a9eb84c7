// SPDX-License-Identifier: Apache-2.0

package nats

import (
	"math"
	"testing"
)

// Bayes' rule by hand: of two boards, one in four and three in four beforehand, of which
// the first makes the picture twelve times as likely, the first has 4/5.
func TestBayesByHand(t *testing.T) {
	first := LogLikelihood(math.Log(12)).With(0).Posterior(Probability(0.25).Log())
	second := LogLikelihood(0).With(0).Posterior(Probability(0.75).Log())
	odds := math.Exp(float64(first - second))
	if share := odds / (1 + odds); math.Abs(share-0.8) > 1e-12 {
		t.Errorf("%g, by hand 4/5", share)
	}
	if e := first.Without(Probability(0.25).Log()); math.Abs(float64(e)-math.Log(12)) > 1e-12 {
		t.Errorf("without its prior the first has %g, want ln 12", e)
	}
	if p := second.With(-1); p != second-1 {
		t.Errorf("a further prior of −1: %g", p-second)
	}
	if e := LogEvidence(2).With(-0.5); e != 1.5 {
		t.Errorf("one more place: %g", e)
	}
	if v := Impossible[LogEvidence](); !math.IsInf(float64(v), -1) {
		t.Errorf("impossible: %g", v)
	}
}
