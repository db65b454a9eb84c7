// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"cmp"
	"math"
	"slices"
)

// find is one candidate as a search remembers it.
type find struct {
	n      int    // the candidate's number
	list   int    // the same for candidates with the same magnets, sheet and feet
	warned uint64 // lines that warn, cautions left out, a bit each
	margin float64
	tight  int // the line with the least margin
	cost   float64
	time   float64
	short  float64 // by how much it fails, shares of the limits added up
	fails  [2]int  // lines that fail; -1: none
}

// reserve is the margin in whole steps: nothing finer tells one rig from another. pace is
// the same of the move time.
func (a find) reserve() float64 { return math.Floor(a.margin/marginStep + 1e-9) }
func (a find) pace() float64    { return math.Round(a.time / timeStep) }

// better orders rigs that pass: without warnings first, then by the worst
// margin, cost, move time.
func (a find) better(b find) int {
	return cmp.Or(cmp.Compare(min(a.warned, 1), min(b.warned, 1)), cmp.Compare(b.reserve(), a.reserve()), cmp.Compare(a.cost, b.cost), cmp.Compare(a.pace(), b.pace()), cmp.Compare(a.n, b.n))
}

// nearer orders rigs that fail: fewest failing lines, then the least shortfall.
func (a find) nearer(b find) int {
	return cmp.Or(cmp.Compare(a.count(), b.count()), cmp.Compare(a.short, b.short), cmp.Compare(a.cost, b.cost), cmp.Compare(a.time, b.time), cmp.Compare(a.n, b.n))
}

func (a find) count() int {
	if a.fails[1] >= 0 {
		return 2
	}
	return 1
}

// same says whether margin, cost and time are equal.
func (a find) same(b find) bool {
	return a.reserve() == b.reserve() && a.cost == b.cost && a.pace() == b.pace()
}

// beats says whether a is nowhere worse than b and somewhere better, or all
// the same and ranked before it.
func (a find) beats(b find) bool {
	if a.same(b) {
		return a.better(b) < 0
	}
	return a.reserve() >= b.reserve() && a.cost <= b.cost && a.pace() <= b.pace()
}

// tally is what a search has found.
type tally struct {
	judged, passed, short int // short: parts run out
	stops                 []int
	best                  []find          // one a choice of magnets, sheet and feet, best first once trimmed
	front                 []find          // Pareto
	near                  map[[2]int]find // nearest of each pair of failing lines
}

func newTally(lines int) *tally { return &tally{stops: make([]int, lines), near: map[[2]int]find{}} }

// joined is a Pareto set with f taken in.
func joined(front []find, f find) []find {
	for _, o := range front {
		if o.n == f.n || o.beats(f) {
			return front
		}
	}
	front = slices.DeleteFunc(front, func(o find) bool { return f.beats(o) })
	return append(front, f)
}

// miss takes in a candidate with one or two failing lines.
func (t *tally) miss(f find) {
	if o, ok := t.near[f.fails]; !ok || f.nearer(o) < 0 {
		t.near[f.fails] = f
	}
}

// trim sorts the best, one for each choice of magnets, sheet and feet, and keeps the first ones.
func (t *tally) trim() {
	slices.SortFunc(t.best, find.better)
	t.best = slices.CompactFunc(t.best, func(a, b find) bool { return a.n == b.n })
	seen := map[int]bool{}
	t.best = slices.DeleteFunc(t.best, func(f find) bool {
		was := seen[f.list]
		seen[f.list] = true
		return was
	})
	t.best = t.best[:min(len(t.best), keep)]
}

// add takes in another tally.
func (t *tally) add(o *tally) {
	t.judged, t.passed, t.short = t.judged+o.judged, t.passed+o.passed, t.short+o.short
	for i, n := range o.stops {
		t.stops[i] += n
	}
	t.best = append(t.best, o.best...)
	if len(t.best) > 4*keep {
		t.trim()
	}
	for _, f := range o.front {
		t.front = joined(t.front, f)
	}
	for _, f := range o.near {
		t.miss(f)
	}
}

// sorted gives the Pareto set, cheapest first.
func (t *tally) sorted() []find {
	out := slices.Clone(t.front)
	slices.SortFunc(out, func(a, b find) int { return cmp.Or(cmp.Compare(a.cost, b.cost), a.better(b)) })
	return out
}
