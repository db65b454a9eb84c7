// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"
	"sort"
)

// node is a place in a lattice: i along one edge direction, j along the other,
// a quarter turn clockwise in the picture (u right, v down).
type node struct{ i, j int }

// lattice joins saddles that are neighbours in a chequer.
type lattice struct {
	s    []saddle
	next [][4]int  // neighbour along each edge, −1 if none
	good [][4]bool // the link is a side of a closed square
}

// newLattice links every saddle to its nearest fitting neighbours between lo and hi
// pixels away. Only links that both ends choose remain.
func newLattice(s []saddle, lo, hi float64) *lattice {
	w := &lattice{s: s, next: make([][4]int, len(s)), good: make([][4]bool, len(s))}
	choice := make([][4]int, len(s))
	for a := range s {
		choice[a] = nearest(s, a, lo, hi)
	}
	for a := range s {
		for k := range 4 {
			w.next[a][k] = -1
			b := choice[a][k]
			if b >= 0 && choice[b][s[b].along(angleTo(s[b], s[a]))] == a {
				w.next[a][k] = b
			}
		}
	}
	w.markSquares()
	return w
}

func angleTo(a, b saddle) float64 { return math.Atan2(b.y-a.y, b.x-a.x) }

// nearest picks, for each edge of saddle a, the nearest saddle along it.
func nearest(s []saddle, a int, lo, hi float64) [4]int {
	best, out := [4]float64{hi, hi, hi, hi}, [4]int{-1, -1, -1, -1}
	for b := range s {
		dx, dy := s[b].x-s[a].x, s[b].y-s[a].y
		if math.Abs(dx) > hi || math.Abs(dy) > hi {
			continue
		}
		d := math.Hypot(dx, dy)
		if d < lo || d > hi || math.Abs(turn(s[b].phase-s[a].phase-math.Pi)) > linkPhase {
			continue
		}
		angle := math.Atan2(dy, dx)
		k := s[a].along(angle)
		off := math.Abs(turn(angle - s[a].edge(k)))
		if off > linkCone {
			continue
		}
		if d *= 1 + off; d < best[k] {
			best[k], out[k] = d, b
		}
	}
	return out
}

// step follows the link of a that lies nearest to a direction.
func (w *lattice) step(a int, angle float64) (k, b int) {
	k = w.s[a].along(angle)
	return k, w.next[a][k]
}

// markSquares finds closed quadrilaterals of links.
func (w *lattice) markSquares() {
	for a := range w.s {
		for k := range 4 {
			b := w.next[a][k]
			if b < 0 {
				continue
			}
			ab := angleTo(w.s[a], w.s[b])
			kad, d := w.step(a, ab+math.Pi/2)
			kbc, c := w.step(b, ab+math.Pi/2)
			if c < 0 || d < 0 || c == d {
				continue
			}
			kdc, e := w.step(d, ab)
			if e != c || !w.even(a, b, c, d) {
				continue
			}
			w.good[a][k], w.good[a][kad], w.good[b][kbc], w.good[d][kdc] = true, true, true, true
			w.goodBack(b, a)
			w.goodBack(d, a)
			w.goodBack(c, b)
			w.goodBack(c, d)
		}
	}
}

func (w *lattice) goodBack(from, to int) {
	for k, b := range w.next[from] {
		if b == to {
			w.good[from][k] = true
		}
	}
}

// even says whether opposite sides are about equally long: perspective and
// distortion change neighbouring squares by less than this.
func (w *lattice) even(a, b, c, d int) bool {
	const ratio = 1.5
	long := func(p, q int) float64 { return math.Hypot(w.s[p].x-w.s[q].x, w.s[p].y-w.s[q].y) }
	ab, dc, ad, bc := long(a, b), long(d, c), long(a, d), long(b, c)
	return ab < ratio*dc && dc < ratio*ab && ad < ratio*bc && bc < ratio*ad
}

// patch is a connected piece of lattice: which saddle sits on which node.
type patch map[node]int

// patches returns the connected pieces, largest first.
func (w *lattice) patches() []patch {
	seen := make([]bool, len(w.s))
	var out []patch
	for a := range w.s {
		if !seen[a] && (w.good[a][0] || w.good[a][1] || w.good[a][2] || w.good[a][3]) {
			out = append(out, w.spread(a, seen))
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return len(out[i]) > len(out[j]) })
	return out
}

// spread numbers everything reachable from a through sides of squares.
func (w *lattice) spread(a int, seen []bool) patch {
	type stop struct {
		at    int
		n     node
		angle float64 // of +i here
	}
	p := patch{{0, 0}: a}
	seen[a] = true
	queue := []stop{{a, node{}, w.s[a].edge(0)}}
	ways := [4]node{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	for len(queue) > 0 {
		q := queue[0]
		queue = queue[1:]
		for t, way := range ways {
			k, b := w.step(q.at, q.angle+float64(t)*math.Pi/2)
			n := node{q.n.i + way.i, q.n.j + way.j}
			if b < 0 || !w.good[q.at][k] || seen[b] {
				continue
			}
			if _, taken := p[n]; taken {
				continue
			}
			p[n], seen[b] = b, true
			angle := angleTo(w.s[q.at], w.s[b]) - float64(t)*math.Pi/2
			queue = append(queue, stop{b, n, w.s[b].edge(w.s[b].along(angle))})
		}
	}
	return p
}
