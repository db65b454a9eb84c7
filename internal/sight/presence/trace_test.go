// SPDX-License-Identifier: Apache-2.0

package presence

import "testing"

// What the classifier and the silhouette said on the twin's pictures: every piece of the
// position is believed in, none where it was missing, and nothing beside a piece that
// fits by less than pieces did.
func TestTraceBelief(t *testing.T) {
	for _, c := range []struct {
		name string
		t    Trace
		is   bool
	}{
		{"the least of the position's pieces", Trace{expected: true, head: 1.5, fit: -5}, true},
		{"the most where one of them is missing", Trace{expected: true, head: -4.6, fit: 5}, false},
		{"one nobody spoke of", Trace{head: 1.9, fit: 20}, true},
		{"bare board", Trace{head: -2, fit: 5}, false},
		{"parts of a piece beside", Trace{beside: true, head: 8, fit: 16}, false},
		{"a piece beside another", Trace{beside: true, head: 2, fit: 24}, true},
	} {
		if got := c.t.Belief(); (got > 0.5) != c.is {
			t.Errorf("%s: %.3f", c.name, got)
		}
	}
	if s := (Trace{own: 25}).sure(); s < 0.99 {
		t.Errorf("a side that leads by 25 nats: %.3f", s)
	}
	if s := (Trace{own: 3}).sure(); s > 0.02 {
		t.Errorf("one that leads by 3: %.3f", s)
	}
}
