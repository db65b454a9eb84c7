// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"
	"testing"
)

// cheapest tries every way of giving rows to columns.
func cheapest(cost [][]float64, row int, used map[int]bool) float64 {
	if row == len(cost) {
		return 0
	}
	best := math.Inf(1)
	for j := range cost[row] {
		if !used[j] {
			used[j] = true
			best = math.Min(best, cost[row][j]+cheapest(cost, row+1, used))
			delete(used, j)
		}
	}
	return best
}

func TestAssignIsCheapest(t *testing.T) {
	rnd := seeded(t, 4)
	for range 200 {
		n := 1 + rnd.IntN(6)
		m := n + rnd.IntN(3)
		cost := make([][]float64, n)
		for i := range cost {
			for range m {
				cost[i] = append(cost[i], math.Round(rnd.Float64()*20))
			}
		}
		column, total := assign(cost)
		seen := map[int]bool{}
		sum := 0.0
		for i, j := range column {
			if seen[j] {
				t.Fatalf("column %d given twice", j)
			}
			seen[j] = true
			sum += cost[i][j]
		}
		if want := cheapest(cost, 0, map[int]bool{}); math.Abs(sum-want) > 1e-9 || math.Abs(total-want) > 1e-9 {
			t.Fatalf("%v: cost %g (said %g), cheapest %g", cost, sum, total, want)
		}
	}
}
