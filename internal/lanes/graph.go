// SPDX-License-Identifier: Apache-2.0

package lanes

import (
	"math"
	"math/bits"
)

// chord is one directed straight piece of the tangent graph. Its ends lie on
// rings: ring 2i is circle i run counter-clockwise, 2i+1 clockwise.
type chord struct {
	from, to int
	out, in  float64 // angles on the two circles, radians
	seg      segment
	cost     float64 // length, with what the outer strip adds
	through  uint64  // yielding obstacles it crosses, one bit each
}

// graph is everything a way may be made of.
type graph struct {
	inside, steady Rect
	cs             []circle
	bit            []uint64 // of each circle; 0: does not yield
	spans          [][]span
	chords         []chord
	leaving        [][]int // ring → chords
	last           int     // the circle that blocked last: likely to block again
}

// maxYields is how many obstacles may yield at once: the bits of a word.
const maxYields = 64

// outerStrip is what a metre outside the calm rectangle costs more, as a share:
// enough to choose the inner of two like ways, too little to force a detour.
const outerStrip = 0.3

// newGraph builds the tangent graph; the last two circles are start and end.
func newGraph(f Field, cs []circle) *graph {
	n := len(cs)
	g := &graph{inside: f.Inside, steady: f.Favoured, cs: cs, bit: make([]uint64, n),
		spans: make([][]span, n), leaving: make([][]int, 2*n)}
	g.inside = g.inside.With(cs[n-1].c).With(cs[n-2].c)
	next := 0
	for i := range cs {
		if cs[i].yields = cs[i].yields && next < maxYields; cs[i].yields {
			g.bit[i] = 1 << next
			next++
		}
	}
	live := make([]int, 0, n)
	for i := range n - 2 {
		if cs[i].r == 0 {
			continue
		}
		if s, ok := spansOf(cs, i, g.inside); ok {
			g.spans[i] = s
			live = append(live, i)
		}
	}
	g.join(live)
	return g
}

// join adds every free chord between the live circles, the start and the end.
func (g *graph) join(live []int) {
	start, end := len(g.cs)-2, len(g.cs)-1
	g.link(start, end, 1, 1)
	for a, i := range live {
		for _, s := range [2]float64{1, -1} {
			g.link(start, i, 1, s)
			g.link(i, end, s, 1)
			for _, j := range live[a+1:] {
				g.link(i, j, s, s)
				g.link(i, j, s, -s)
			}
		}
	}
}

// link adds the chord from circle i to circle j and, between two obstacles, the
// same one run backwards.
func (g *graph) link(i, j int, si, sj float64) {
	seg, ok := tangent(g.cs[i], g.cs[j], si, sj)
	if !ok || !g.inside.Holds(seg.a) || !g.inside.Holds(seg.b) {
		return
	}
	through, ok := g.crossed(seg, i, j)
	if !ok {
		return
	}
	c := chord{from: ring(i, si), to: ring(j, sj), seg: seg, through: through}
	c.out, c.in = angleOn(g.cs[i], seg.a), angleOn(g.cs[j], seg.b)
	c.cost = seg.a.Distance(seg.b) * g.factor(Spot{X: (seg.a.X + seg.b.X) / 2, Y: (seg.a.Y + seg.b.Y) / 2})
	g.add(c)
	if i < len(g.cs)-2 && j < len(g.cs)-2 {
		c.from, c.to, c.out, c.in = ring(j, -sj), ring(i, -si), c.in, c.out
		c.seg = segment{seg.b, seg.a}
		g.add(c)
	}
}

func (g *graph) add(c chord) {
	g.leaving[c.from] = append(g.leaving[c.from], len(g.chords))
	g.chords = append(g.chords, c)
}

// crossed says which yielding circles the piece crosses, and whether it is
// free of all others.
func (g *graph) crossed(s segment, i, j int) (uint64, bool) {
	if l := g.last; l != i && l != j && g.bit[l] == 0 && g.blocks(l, s) {
		return 0, false
	}
	var through uint64
	for k := range len(g.cs) - 2 {
		if k == i || k == j || !g.blocks(k, s) {
			continue
		}
		if g.bit[k] == 0 {
			g.last = k
			return 0, false
		}
		through |= g.bit[k]
	}
	return through, true
}

func (g *graph) blocks(k int, s segment) bool {
	r := g.cs[k].r - touching
	return r > 0 && s.distance2(g.cs[k].c) < r*r
}

func (g *graph) factor(p Spot) float64 {
	if g.steady.Holds(p) {
		return 1
	}
	return 1 + outerStrip
}

func ring(i int, s float64) int {
	if s > 0 {
		return 2 * i
	}
	return 2*i + 1
}

func angleOn(c circle, p Spot) float64 { return math.Atan2(p.Y-c.c.Y, p.X-c.c.X) }

// sweep is how far round the ring the moving centre goes from the end of
// chord a to the start of chord b, radians in [0, 2π).
func (g *graph) sweep(a, b *chord) float64 {
	d := b.out - a.in
	if a.to&1 == 1 {
		d = -d
	}
	d = turn(d)
	if 2*math.Pi-d < angleNoise {
		return 0
	}
	return d
}

// angleNoise: two touching points closer than this are the same one; 1e-9 rad
// at 20 mm is far below an atom.
const angleNoise = 1e-9

// along says how far from the end of chord a the ring is free, and finds for
// a sweep which yielding circles it crosses.
func (g *graph) along(a *chord) float64 {
	free := 2 * math.Pi
	for _, s := range g.spans[a.to/2] {
		if s.by >= 0 && g.bit[s.by] != 0 {
			continue
		}
		free = math.Min(free, g.until(a, s))
	}
	return free
}

// until is the sweep from the end of chord a to the start of a span.
func (g *graph) until(a *chord, s span) float64 {
	d := a.in - s.mid
	if a.to&1 == 1 {
		d = -d
	}
	d = turn(d + s.half) // how far past the start of the span the chord ends
	if d < 2*s.half-angleNoise {
		return 0
	}
	return turn(2*math.Pi - d)
}

// touched are the yielding circles on an arc of the given sweep after chord a.
func (g *graph) touched(a *chord, sweep float64) uint64 {
	var m uint64
	for _, s := range g.spans[a.to/2] {
		if s.by >= 0 && g.bit[s.by] != 0 && g.until(a, s) < sweep {
			m |= g.bit[s.by]
		}
	}
	return m
}

func count(m uint64) int { return bits.OnesCount64(m) }
