// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"testing"

	"boardhand/internal/sight/hypothesis"
)

// Nothing is learnt as "no change" while a move is nearly as likely: on the twin
// a white bishop that went to a light square was read so with 4.6 nats, and the
// picture learnt from hid the move for the rest of the game.
func TestContested(t *testing.T) {
	for _, c := range []struct {
		nats  float64
		state State
		want  bool
	}{
		{-35, Moved, true}, {-4.6, Moved, false}, {-4.6, Partial, false}, {-4.6, Same, true},
	} {
		v := decision{hypotheses: []hypothesis.Hypothesis{{State: Same}, {State: c.state, Lag: c.nats}}}
		if got := v.isUncontested(); got != c.want {
			t.Errorf("%v %.1f nats behind: uncontested %v, want %v", c.state, -c.nats, got, c.want)
		}
	}
}
