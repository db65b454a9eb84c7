// SPDX-License-Identifier: Apache-2.0

package bond

import "math"

// pair is one wall in both kinds of courses: through the corners, and between the
// walls across.
type pair struct {
	through, between Run
	overlap          int // least distance of their joints, units
}

// bestPair lays a wall of n units inside, as cheaply as can be: with joints at least
// half an element of four apart where that can be, else one unit.
func bestPair(n, thick int, lengths []Length) (pair, bool) {
	for overlap := goodOverlap; overlap >= 1; overlap-- {
		if p, ok := newLayer(n, thick, lengths, overlap).lay(); ok {
			return p, true
		}
	}
	return pair{}, false
}

// layer lays both runs of a wall at once, from one end to the other: always the run
// that is behind goes on. So a new joint need only keep away from the last one of the
// other run, and the cheapest pair of all is found by dynamic programming over the
// places where both have come to.
type layer struct {
	n, thick int
	lengths  []Length
	overlap  int
	apart    int // the most that one run is ahead of the other
	best     [][]step
}

// step is the cheapest way to where both runs have come, by its last element.
type step struct {
	cost    int
	last    int  // its length; 0 at the beginning
	through bool // it was laid in the run through the corners
}

const never = math.MaxInt / 2

func newLayer(n, thick int, lengths []Length, overlap int) *layer {
	l := &layer{n: n, thick: thick, lengths: lengths, overlap: overlap, apart: thick}
	for _, e := range lengths {
		l.apart = max(l.apart, e.Units)
	}
	l.best = make([][]step, n+2*thick+1)
	for i := range l.best {
		l.best[i] = make([]step, 2*l.apart+1)
		for k := range l.best[i] {
			l.best[i][k].cost = never
		}
	}
	l.at(-thick, 0).cost = 0
	return l
}

// at is the step at which the run through the corners has come to p and the other to q;
// nil where they are too far apart or beyond the ends.
func (l *layer) at(p, q int) *step {
	if p > l.n+l.thick || q > l.n || q-p > l.apart || p-q > l.apart {
		return nil
	}
	return &l.best[p+l.thick][q-p+l.apart]
}

// lay finds the cheapest pair; of equal ones that with the deeper overlaps.
func (l *layer) lay() (pair, bool) {
	for p := -l.thick; p <= l.n+l.thick; p++ {
		for q := max(0, p-l.apart); q <= min(l.n, p+l.apart); q++ {
			if here := l.at(p, q); here.cost < never {
				l.goOn(p, q, here.cost)
			}
		}
	}
	end := l.at(l.n+l.thick, l.n)
	if end.cost >= never {
		return pair{}, false
	}
	return l.traced(), true
}

// goOn lays the next element of the run that is behind.
func (l *layer) goOn(p, q, cost int) {
	through := q == l.n || p <= q && p < l.n+l.thick
	for _, e := range l.lengths {
		p2, q2 := p, q+e.Units
		if through {
			p2, q2 = p+e.Units, q
		}
		to := l.at(p2, q2)
		near := l.near(p2, q2)
		if to == nil || near < l.overlap {
			continue
		}
		if c := cost + e.Cost*costScale + deepOverlap - near; c < to.cost {
			*to = step{c, e.Units, through}
		}
	}
}

// near is how far apart the last joints of both runs are, up to deepOverlap. The end of
// the run through the corners is no joint that anything lies over.
func (l *layer) near(p, q int) int {
	if p == l.n+l.thick {
		return deepOverlap
	}
	return min(deepOverlap, max(p-q, q-p))
}

// traced follows the cheapest way back.
func (l *layer) traced() pair {
	out := pair{through: Run{From: -l.thick}, overlap: l.n + 2*l.thick}
	for p, q := l.n+l.thick, l.n; p > -l.thick || q > 0; {
		s := l.at(p, q)
		if s.through {
			out.through.Elements = append([]int{s.last}, out.through.Elements...)
			p -= s.last
		} else {
			out.between.Elements = append([]int{s.last}, out.between.Elements...)
			q -= s.last
		}
	}
	others := append(out.between.Joints(), 0, l.n)
	for _, j := range out.through.Joints() {
		for _, o := range others {
			out.overlap = min(out.overlap, max(j-o, o-j))
		}
	}
	return out
}
