// SPDX-License-Identifier: Apache-2.0

package numeric

import (
	"math"
	"testing"
)

func TestSolve(t *testing.T) {
	x, ok := Solve([][]float64{{0, 2, 1, 7}, {1, -1, 0, -1}, {3, 0, 2, 9}})
	if want := []float64{1, 2, 3}; !ok || math.Abs(x[0]-want[0])+math.Abs(x[1]-want[1])+math.Abs(x[2]-want[2]) > 1e-12 {
		t.Errorf("got %v, %v", x, ok)
	}
	if _, ok := Solve([][]float64{{1, 2, 3}, {2, 4, 6}}); ok {
		t.Error("a singular system was solved")
	}
}
