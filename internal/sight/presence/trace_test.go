// SPDX-License-Identifier: Apache-2.0

package presence

import "testing"

// Right beside a piece neither the fit nor the head decides alone: the shadow of a king on a red
// margin fitted by 40 nats and had no head; pieces that stood there had 1.6 nats and fitted by 24
// and more; the body of a neighbour had a head of up to 8 and fitted by 16 at most.
func TestNeitherDecidesAlone(t *testing.T) {
	for name, c := range map[string]struct {
		t       Trace
		isPiece bool
	}{
		"shadow":    {Trace{beside: true, head: -18, fit: 40.4}, false},
		"neighbour": {Trace{beside: true, head: 8, fit: 16}, false},
		"piece":     {Trace{beside: true, head: 1.6, fit: 24}, true},
	} {
		if b := c.t.Belief(); (b > 0.5) != c.isPiece {
			t.Errorf("%s: a piece by %.3f", name, b)
		}
	}
}
