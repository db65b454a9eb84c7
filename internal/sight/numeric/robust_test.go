// SPDX-License-Identifier: Apache-2.0

package numeric

import "testing"

// By hand: 1, 2² and 5²; and as much to either side.
func TestRobustDivisor(t *testing.T) {
	for z, want := range map[float64]float64{0: 1, 1: 4, -1: 4, 2: 25, -2: 25} {
		if got := RobustDivisor(z); got != want {
			t.Errorf("%g: %g, want %g", z, got, want)
		}
	}
}
