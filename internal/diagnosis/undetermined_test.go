// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"testing"
)

// An arrival without a number explains nothing and breaks nothing.
func TestNoNumberIsNoFit(t *testing.T) {
	all := []arrival{{off: Spot{X: math.NaN()}, noise: math.NaN()}}
	f := solve(all, anyPlace, 0)
	if !math.IsInf(f.evidence, -1) || len(f.value) == 0 || len(f.value) != len(f.sigma) {
		t.Errorf("evidence %g, %d values, %d sigmas; want none at all for it", f.evidence, len(f.value), len(f.sigma))
	}
}
