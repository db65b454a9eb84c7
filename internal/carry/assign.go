// SPDX-License-Identifier: Apache-2.0

package carry

import "math"

// assign gives every row its own column at the least total cost. It needs at
// least as many columns as rows. Shortest augmenting paths with potentials
// (Kuhn 1955, Munkres 1957; the O(n³) form is from memory, tested against
// trying every permutation).
func assign(cost [][]float64) (column []int, total float64) {
	n := len(cost)
	if n == 0 {
		return nil, 0
	}
	m := len(cost[0])
	a := &assignment{cost: cost, u: make([]float64, n+1), v: make([]float64, m+1), row: make([]int, m+1)}
	for i := 1; i <= n; i++ {
		a.augment(i)
	}
	column = make([]int, n)
	for j := 1; j <= m; j++ {
		if a.row[j] > 0 {
			column[a.row[j]-1] = j - 1
			total += cost[a.row[j]-1][j-1]
		}
	}
	return column, total
}

// assignment is the state of the search; rows and columns count from 1, column
// 0 stands for the row being placed.
type assignment struct {
	cost [][]float64
	u, v []float64 // potentials
	row  []int     // the row that holds each column
}

// augment finds a column for row i, moving others along a shortest path.
func (a *assignment) augment(i int) {
	m := len(a.v) - 1
	least, before, done := make([]float64, m+1), make([]int, m+1), make([]bool, m+1)
	for j := range least {
		least[j] = math.Inf(1)
	}
	a.row[0] = i
	at := 0
	for a.row[at] != 0 {
		done[at] = true
		at = a.scan(at, least, before, done)
	}
	for at != 0 {
		a.row[at] = a.row[before[at]]
		at = before[at]
	}
}

// scan relaxes the columns from the row that holds column at, shifts the
// potentials and returns the nearest column not done.
func (a *assignment) scan(at int, least []float64, before []int, done []bool) int {
	i, next, delta := a.row[at], 0, math.Inf(1)
	for j := 1; j < len(least); j++ {
		if done[j] {
			continue
		}
		if c := a.cost[i-1][j-1] - a.u[i] - a.v[j]; c < least[j] {
			least[j], before[j] = c, at
		}
		if least[j] < delta {
			next, delta = j, least[j]
		}
	}
	for j := range least {
		if done[j] {
			a.u[a.row[j]] += delta
			a.v[j] -= delta
		} else {
			least[j] -= delta
		}
	}
	return next
}
