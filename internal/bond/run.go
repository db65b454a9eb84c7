// SPDX-License-Identifier: Apache-2.0

package bond

import "math"

// pair is one wall in both kinds of courses: through the corners, and between the
// walls across.
type pair struct {
	through, between Run
	overlap          int // least distance of their joints, units
	cost             int
}

// bestPair lays a wall of n units inside: with joints at least half an element of four
// apart where that can be, else one unit. Of two orders of work the cheaper counts.
func bestPair(n, thick int, lengths []Length) (pair, bool) {
	for overlap := goodOverlap; overlap >= 1; overlap-- {
		ends := []int{0, n} // where the walls across meet it in the other courses
		a, okA := layPair(n, thick, lengths, overlap, func(l layer) (through, between Run, cost int, ok bool) {
			through, c1, ok1 := l.lay(-thick, n+thick, ends)
			between, c2, ok2 := l.lay(0, n, through.Joints())
			return through, between, c1 + c2, ok1 && ok2
		})
		b, okB := layPair(n, thick, lengths, overlap, func(l layer) (through, between Run, cost int, ok bool) {
			between, c1, ok1 := l.lay(0, n, nil)
			through, c2, ok2 := l.lay(-thick, n+thick, append(between.Joints(), ends...))
			return through, between, c1 + c2, ok1 && ok2
		})
		switch {
		case okA && (!okB || a.cost <= b.cost):
			return a, true
		case okB:
			return b, true
		}
	}
	return pair{}, false
}

// layPair lays both runs in the order that work says.
func layPair(n, thick int, lengths []Length, overlap int, work func(layer) (Run, Run, int, bool)) (pair, bool) {
	through, between, cost, ok := work(layer{lengths, overlap})
	if !ok {
		return pair{}, false
	}
	p := pair{through: through, between: between, overlap: n + 2*thick, cost: cost}
	others := append(between.Joints(), 0, n)
	for _, j := range through.Joints() {
		p.overlap = min(p.overlap, nearest(j, others))
	}
	return p, true
}

// layer lays runs with joints at least overlap units away from given ones.
type layer struct {
	lengths []Length
	overlap int
}

// lay is the cheapest run from one place to another that keeps away from the places
// of avoid; of equal ones that with the joints farthest from them, up to deepOverlap.
// By dynamic programming over the places where a joint may be.
func (l layer) lay(from, to int, avoid []int) (Run, int, bool) {
	const never = math.MaxInt / 2
	n := to - from
	best, last := make([]int, n+1), make([]int, n+1)
	for p := 1; p <= n; p++ {
		best[p] = never
		near := deepOverlap
		if p < n {
			near = min(near, nearest(from+p, avoid))
		}
		if near < l.overlap && p < n {
			continue
		}
		for _, e := range l.lengths {
			if e.Units > p || best[p-e.Units] >= never {
				continue
			}
			if c := best[p-e.Units] + e.Cost*costScale + deepOverlap - near; c < best[p] {
				best[p], last[p] = c, e.Units
			}
		}
	}
	if n < 1 || best[n] >= never {
		return Run{From: from}, 0, false
	}
	run := Run{From: from}
	for p := n; p > 0; p -= last[p] {
		run.Elements = append(run.Elements, last[p])
	}
	for i, j := 0, len(run.Elements)-1; i < j; i, j = i+1, j-1 {
		run.Elements[i], run.Elements[j] = run.Elements[j], run.Elements[i]
	}
	return run, best[n], true
}

// nearest is how far the nearest of some places is.
func nearest(p int, places []int) int {
	out := math.MaxInt / 2
	for _, q := range places {
		out = min(out, max(p-q, q-p))
	}
	return out
}
