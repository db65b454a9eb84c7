package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// bulb is the lamp that throws the shadows on the board, as a point above it,
// and what its shadows look like: how dark the open board is where the men that
// are known to stand there shade it, and where they do not.
type bulb struct {
	at    frame.Point[frame.Board]
	match float64 // correlation of the shadows foreseen with the dark seen, 0–1
	// Densities of darkness by bin, on dark and light squares, where shade is
	// foreseen and where not: what is foreseen wrongly is in them, so that a bulb
	// that explains little tells little.
	shaded, lit [2][gloomBins]float64
}

const (
	gloomBins          = 24
	gloomFrom, gloomTo = -0.3, 0.9 // of ln brightness below the even board's
	shadeHeights       = 11        // heights of a man at which his shadow is computed
	bulbSamples        = 1500      // pixels by which a bulb is looked for
	bulbLow, bulbHigh  = 0.25, 4.0 // metres above the board
	bulbLeast          = 0.2       // match from which it is one
)

// thrown is the shadow of a man: his rings, each thrown onto the board.
type thrown struct {
	at, end frame.Spot[frame.Board] // of the foot and of the head
	wide    float64                 // radius of the widest ring
	rings   [shadeHeights]struct{ x, y, r float64 }
}

// throw is the shadow of a man who stands at a place.
func (b *bulb) throw(s *shapes, k chess.Kind, at frame.Spot[frame.Board]) thrown {
	t := thrown{at: at}
	h := s.men[k].Height
	for j := range t.rings {
		z := float64(j) / (shadeHeights - 1)
		far := z * h / (b.at.Z - z*h)
		r := &t.rings[j]
		r.x, r.y, r.r = at.X+(at.X-b.at.X)*far, at.Y+(at.Y-b.at.Y)*far, s.radius(k, z)*(1+far)
		t.wide = max(t.wide, r.r)
		t.end = frame.Spot[frame.Board]{X: r.x, Y: r.y}
	}
	return t
}

// covers says whether a board point lies in the shadow.
func (t *thrown) covers(x, y float64) bool {
	p, along := frame.Spot[frame.Board]{X: x, Y: y}.Sub(t.at), t.end.Sub(t.at)
	f := 0.0
	if l := along.Dot(along); l > 0 {
		f = max(0, min(1, p.Dot(along)/l))
	}
	if d := p.Sub(along.Scale(f)); d.Dot(d) > t.wide*t.wide {
		return false
	}
	for _, r := range t.rings {
		if (x-r.x)*(x-r.x)+(y-r.y)*(y-r.y) < r.r*r.r {
			return true
		}
	}
	return false
}

// gloom is how much darker than the even board a pixel is, ln brightness.
func (e *eye) gloom(p *plate, i int32) float64 {
	return max(gloomFrom, min(gloomTo-1e-3, float64(e.coat.plate.l[i]-p.l[i])))
}

func gloomBin(v float64) int { return int((v - gloomFrom) / (gloomTo - gloomFrom) * gloomBins) }

// openField says whether a pixel shows a square of the board open.
func (e *eye) openField(i int32) bool { return e.kinds[i] <= lightGround && e.stack.open(i) > 0.97 }

// throw is the shadows of the men but those that are gone.
func (e *eye) throw(b *bulb, gone []bool) []thrown {
	var out []thrown
	for k := range e.men {
		if m := &e.men[k]; gone == nil || !gone[k] {
			out = append(out, b.throw(e.shapes, m.piece.Kind(), m.at))
		}
	}
	return out
}

// shaded says whether any of some shadows covers a pixel's place.
func (e *eye) shaded(by []thrown, i int32) bool {
	x, y := float64(e.ground.x[i]), float64(e.ground.y[i])
	for k := range by {
		if by[k].covers(x, y) {
			return true
		}
	}
	return false
}

// match is the correlation of a bulb's shadows with the dark of some pixels in
// the last settled picture.
func (e *eye) match(b *bulb, where []int32) float64 {
	var m moments
	by := e.throw(b, nil)
	for _, i := range where {
		s := 0.0
		if e.shaded(by, i) {
			s = 1
		}
		m.add(s, e.gloom(e.last.plate, i))
	}
	return m.correlation()
}

// findBulb looks for the bulb whose shadows of the men are most like the dark
// places of the last settled picture; nil when none is.
func (e *eye) findBulb() *bulb {
	var where []int32
	step := max(1, len(e.samples)/bulbSamples)
	for n := 0; n < len(e.samples); n += step {
		if e.openField(e.samples[n]) {
			where = append(where, e.samples[n])
		}
	}
	best := bulb{}
	try := func(x, y, z float64) bool {
		b := bulb{at: frame.Point[frame.Board]{X: x, Y: y, Z: z}}
		if z < bulbLow || z > bulbHigh {
			return false
		}
		if b.match = e.match(&b, where); b.match <= best.match+1e-4 {
			return false
		}
		best = b
		return true
	}
	const around = 16
	for k := range around {
		s, c := math.Sincos(2 * math.Pi * float64(k) / around)
		for _, z := range [2]float64{0.5, 1.5} {
			for _, slope := range [5]float64{0.25, 0.5, 0.8, 1.2, 1.8} { // of the light at the middle, from the plumb line
				try(z*slope*c, z*slope*s, z)
			}
		}
	}
	for step := 0.15; step > 0.01; step /= 2 {
		for again := true; again; {
			d := step * best.at.Z
			from := best.at
			again = try(from.X+d, from.Y, from.Z) || try(from.X-d, from.Y, from.Z) || try(from.X, from.Y+d, from.Z) ||
				try(from.X, from.Y-d, from.Z) || try(from.X, from.Y, from.Z+d) || try(from.X, from.Y, from.Z-d)
		}
	}
	if best.match < bulbLeast {
		return nil
	}
	e.gauge(&best)
	return &best
}

// gauge counts how dark the open board is where the bulb's shadows are foreseen
// and where not.
func (e *eye) gauge(b *bulb) {
	for k := range b.lit {
		for j := range b.lit[k] {
			b.lit[k][j], b.shaded[k][j] = 1, 1
		}
	}
	by := e.throw(b, nil)
	for _, i := range e.samples {
		if !e.openField(i) {
			continue
		}
		to := &b.lit[e.kinds[i]]
		if e.shaded(by, i) {
			to = &b.shaded[e.kinds[i]]
		}
		to[gloomBin(e.gloom(e.last.plate, i))]++
	}
	for k := range b.lit {
		for _, v := range [2]*[gloomBins]float64{&b.lit[k], &b.shaded[k]} {
			sum := 0.0
			for _, n := range v {
				sum += n
			}
			for j := range v {
				v[j] /= sum
			}
		}
	}
}

// shadowShare is how much of the evidence of a shadow's pixels counts: they all
// share the mistakes of one outline, one bulb and one edge.
const shadowShare = 0.06

// shadows weighs the kinds of a promoted man by the shadow he throws: a queen's
// is longer than a rook's, whatever they look like from above. The guesses
// differ in nothing but that man. In nats, by guess.
func (q *inquiry) shadows(kinds []*guess) []float64 {
	out := make([]float64, len(kinds))
	b := q.eye.bulbNow()
	if b == nil || slices.ContainsFunc(kinds, func(g *guess) bool { return g.promoted() == nil }) {
		return out
	}
	hidden := make([]bool, len(q.base))
	for _, g := range kinds {
		for k := range q.eye.men {
			if !g.gone[k] {
				q.eye.men[k].mark(hidden, 0)
			}
		}
		for k := range g.stood {
			g.stood[k].mark(hidden, 0)
		}
	}
	const most = 3.0 // nats a pixel
	others, own := q.eye.throw(b, kinds[0].gone), make([]thrown, len(kinds))
	for n, g := range kinds {
		m := g.promoted()
		own[n] = b.throw(q.eye.shapes, m.piece.Kind(), m.at)
	}
	for i := range q.eye.ground.box.each(q.eye.ground.w) {
		if hidden[i] || q.eye.kinds[i] > lightGround || q.eye.shaded(others, int32(i)) {
			continue
		}
		x, y := float64(q.eye.ground.x[i]), float64(q.eye.ground.y[i])
		ground, bin := q.eye.kinds[i], gloomBin(q.eye.gloom(q.plate, int32(i)))
		v := max(-most, min(most, math.Log(b.shaded[ground][bin]/b.lit[ground][bin])))
		for n := range own {
			if own[n].covers(x, y) {
				out[n] += shadowShare * v
			}
		}
	}
	return out
}

// promoted is the man who arrived on the last square of a guess's move; nil if
// nobody did.
func (g *guess) promoted() *standing {
	for k := range g.stood {
		if g.stood[k].square == g.move.To() {
			return &g.stood[k]
		}
	}
	return nil
}

// bulbNow is the bulb of the last settled picture, looked for once.
func (e *eye) bulbNow() *bulb {
	if e.last == nil {
		return nil
	}
	if e.lamplit != e.last {
		e.lamplit, e.bulb = e.last, e.findBulb()
	}
	return e.bulb
}
