// SPDX-License-Identifier: Apache-2.0

package desk

import "testing"

// A stop holds whatever it comes into, and waiting forgets no stop.
func TestMotorsStates(t *testing.T) {
	for _, c := range []struct{ from, halted, awaited Motors }{
		{Running, Halted, Waiting}, {Halted, Halted, Held}, {Waiting, Held, Waiting}, {Held, Held, Held},
	} {
		if got := c.from.halt(); got != c.halted || !got.isHalted() {
			t.Errorf("%s, stopped, is %s, want %s", c.from, got, c.halted)
		}
		if got := c.from.await(); got != c.awaited || !got.isAwaiting() || got.isHalted() != c.from.isHalted() {
			t.Errorf("%s, waiting, is %s, want %s", c.from, got, c.awaited)
		}
	}
}
