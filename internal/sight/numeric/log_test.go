// SPDX-License-Identifier: Apache-2.0

package numeric

import (
	"math"
	"testing"
)

func TestLog(t *testing.T) {
	for x := 1e-20; x < 1e20; x *= 1.37 {
		if d := math.Abs(Log(float32(x)) - math.Log(x)); d > 2e-4 {
			t.Errorf("Log(%g) is %g off", x, d)
		}
	}
}
