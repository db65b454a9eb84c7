// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"
	"slices"

	"boardhand/internal/carry/trajectory"
	"boardhand/internal/lanes"
)

// transfer is one piece to be brought to one place at set-up.
type transfer struct {
	piece int // index in the builder's pieces
	to    target
	// after lists the transfers that must be done before: the place is taken, or
	// this is the second half of a way over a waiting place.
	after []int
}

// schedule is the transfers in the order they are done, with what the order costs.
type schedule struct {
	transfers []transfer
	from      []lanes.Spot // where each transfer's piece is picked up
	start     lanes.Spot   // the carriage
	hop       [][]float64  // seconds from the end of transfer i to the start of j; row n: from the carriage's place
}

// travelTime is the least time from where a carry to a has ended to b: the
// magnet may be nearer by the lead.
func (l margins) travelTime(a, b lanes.Spot) float64 {
	if l.Back {
		return trajectory.Hop(a, b, l.Travel, 0)
	}
	return trajectory.Hop(a, b, l.Travel, l.Lead)
}

// carryTime is the least time to carry a piece from a to b, with lifting and
// lowering: no way is shorter than the straight one, and the magnet, which
// starts under the piece and ends ahead of it, has the lead to run besides.
func (l margins) carryTime(a, b lanes.Spot) float64 {
	t := trajectory.Hop(a, b, l.Carry, -l.Lead) + 2*l.LiftTime
	if l.Back {
		t += trajectory.HopAlong(l.Lead, l.Carry.Most)
	}
	return t
}

func (l margins) schedule(transfers []transfer, from []lanes.Spot, start lanes.Spot) *schedule {
	n := len(transfers)
	r := &schedule{transfers: transfers, from: from, start: start, hop: make([][]float64, n+1)}
	for i := range n + 1 {
		at := start
		if i < n {
			at = transfers[i].to.at
		}
		r.hop[i] = make([]float64, n)
		for j := range n {
			r.hop[i][j] = l.travelTime(at, from[j])
		}
	}
	return r
}

// cost is the empty travelling of an order.
func (r *schedule) cost(order []int) float64 {
	t, at := 0.0, len(r.transfers)
	for _, i := range order {
		t += r.hop[at][i]
		at = i
	}
	return t
}

// allowed says whether every transfer comes after those it waits for.
func (r *schedule) allowed(order []int) bool {
	rank := make([]int, len(r.transfers))
	for k, i := range order {
		rank[i] = k
	}
	for i, c := range r.transfers {
		for _, b := range c.after {
			if rank[b] > rank[i] {
				return false
			}
		}
	}
	return true
}

// greedy does the nearest transfer that may be done next.
func (r *schedule) greedy() []int {
	done, at := make([]bool, len(r.transfers)), len(r.transfers)
	var order []int
	for len(order) < len(r.transfers) {
		best := -1
		for i, c := range r.transfers {
			ready := !done[i]
			for _, b := range c.after {
				ready = ready && done[b]
			}
			if ready && (best < 0 || r.hop[at][i] < r.hop[at][best]) {
				best = i
			}
		}
		if best < 0 { // a ring that no free place could open
			best = slices.Index(done, false)
		}
		done[best], at = true, best
		order = append(order, best)
	}
	return order
}

// improve moves runs of one to three transfers elsewhere, and turns stretches
// round, as long as that saves travelling.
func (r *schedule) improve(order []int) []int {
	cost := r.cost(order)
	for better := true; better; {
		better = false
		for i := range order {
			for n := 1; n <= 3 && i+n <= len(order); n++ {
				for j := 0; j+n <= len(order); j++ {
					next := moved(order, i, n, j)
					if c := r.cost(next); c < cost-1e-9 && r.allowed(next) {
						order, cost, better = next, c, true
					}
				}
			}
			for j := i + 2; j <= len(order); j++ {
				next := turned(order, i, j)
				if c := r.cost(next); c < cost-1e-9 && r.allowed(next) {
					order, cost, better = next, c, true
				}
			}
		}
	}
	return order
}

// moved takes n transfers from i out and puts them back at j.
func moved(order []int, i, n, j int) []int {
	rest := append(append([]int(nil), order[:i]...), order[i+n:]...)
	out := append([]int(nil), rest[:j]...)
	out = append(out, order[i:i+n]...)
	return append(out, rest[j:]...)
}

// turned runs the transfers from i to before j backwards.
func turned(order []int, i, j int) []int {
	out := append([]int(nil), order...)
	for a, b := i, j-1; a < b; a, b = a+1, b-1 {
		out[a], out[b] = out[b], out[a]
	}
	return out
}

// lowerBound is a time in which no plan can bring these pieces to these homes:
// every piece is carried there at least once, no carry beats the straight one
// (carryTime), and each beginning is reached by empty travel from some end, so
// the cheapest pairing of ends with beginnings, whether or not it makes one
// round, is the least that travelling can take. Waiting places, detours and pieces
// who step aside only add to it.
func (r *schedule) lowerBound(l margins) float64 {
	n := len(r.transfers)
	if n == 0 {
		return 0
	}
	cost := make([][]float64, n) // each beginning is reached from some end, or from the start
	t := 0.0
	for j := range n {
		for i := range n + 1 {
			c := r.hop[i][j]
			if i == j {
				c = math.MaxFloat32 // not from its own end
			}
			cost[j] = append(cost[j], c)
		}
		t += l.carryTime(r.from[j], r.transfers[j].to.at)
	}
	_, travel := assign(cost)
	return t + travel
}
