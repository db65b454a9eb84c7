// SPDX-License-Identifier: Apache-2.0

package lanes

import (
	"container/heap"
	"math"
)

// arrival is a chord reached by the search.
type arrival struct {
	chord    int
	cost     float64 // so far
	estimate float64 // cost plus the straight distance left
	through  uint64
	swept    float64 // arc from the previous chord, radians
	before   int     // index of the arrival before, −1 at the start
}

// front is the search's open arrivals, cheapest guess first.
type front struct {
	all  []arrival
	open []int
}

func (q *front) Len() int           { return len(q.open) }
func (q *front) Less(i, j int) bool { return q.all[q.open[i]].estimate < q.all[q.open[j]].estimate }
func (q *front) Swap(i, j int)      { q.open[i], q.open[j] = q.open[j], q.open[i] }
func (q *front) Push(x any)         { q.open = append(q.open, x.(int)) }
func (q *front) Pop() any {
	i := q.open[len(q.open)-1]
	q.open = q.open[:len(q.open)-1]
	return i
}

// price is what the search minimises beyond length.
type price struct {
	bend    float64 // metres a bend counts as
	yielder float64 // metres an obstacle that must yield counts as
}

// seek runs A* over the chords. It returns the arrivals of the cheapest way,
// first to last, or nil when there is none.
func (g *graph) seek(p price) []arrival {
	q := &front{}
	best := make([]float64, len(g.chords))
	for i := range best {
		best[i] = math.Inf(1)
	}
	start, end := len(g.cs)-2, len(g.cs)-1
	for _, c := range g.leaving[ring(start, 1)] {
		g.reach(q, best, arrival{chord: c, before: -1}, p)
	}
	for q.Len() > 0 {
		at := heap.Pop(q).(int)
		a := q.all[at]
		if a.cost > best[a.chord] {
			continue
		}
		if g.chords[a.chord].to/2 == end {
			return q.trail(at)
		}
		g.expand(q, best, at, p)
	}
	return nil
}

// expand walks on from an arrival along its ring to the chords leaving there.
func (g *graph) expand(q *front, best []float64, at int, p price) {
	a := q.all[at]
	c := &g.chords[a.chord]
	free := g.along(c)
	r := g.cs[c.to/2].r * g.factor(c.seg.b)
	for _, k := range g.leaving[c.to] {
		w := g.sweep(c, &g.chords[k])
		if w > free {
			continue
		}
		next := arrival{chord: k, cost: a.cost + r*w, through: a.through, swept: w, before: at}
		if w > angleNoise {
			next.cost += p.bend
		}
		if m := g.touched(c, w) &^ a.through; m != 0 {
			next.through |= m
			next.cost += p.yielder * float64(count(m))
		}
		g.reach(q, best, next, p)
	}
}

// reach adds the chord's own cost and opens the arrival if it is the best yet.
func (g *graph) reach(q *front, best []float64, a arrival, p price) {
	c := &g.chords[a.chord]
	a.cost += c.cost
	if m := c.through &^ a.through; m != 0 {
		a.through |= m
		a.cost += p.yielder * float64(count(m))
	}
	if a.cost >= best[a.chord] {
		return
	}
	best[a.chord] = a.cost
	a.estimate = a.cost + c.seg.b.Distance(g.cs[len(g.cs)-1].c)
	q.all = append(q.all, a)
	heap.Push(q, len(q.all)-1)
}

// trail lists the arrivals that led to the one at index at.
func (q *front) trail(at int) []arrival {
	var out []arrival
	for ; at >= 0; at = q.all[at].before {
		out = append(out, q.all[at])
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}
