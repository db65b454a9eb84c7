package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// builds are the factors tried: turned sets differ by about this much.
var builds = []float64{0.7, 0.85, 1, 1.2, 1.4}

// tailor finds the build of the men that explains the first picture best, the
// body and the head in turn.
func (e *eye) tailor(g *glance) {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range e.men {
		at[m.square] = m.at
	}
	var region []int32
	seen := make([]bool, len(g.base))
	for _, f := range [2]float64{builds[0], builds[len(builds)-1]} {
		e.dress(build{f, f}, at)
		for i := range e.stack.count {
			if e.stack.count[i] > 0 && !seen[i] {
				seen[i] = true
				region = append(region, int32(i))
			}
		}
	}
	best, top := build{1, 1}, math.Inf(-1)
	for _, part := range []func(*build, float64){
		func(b *build, f float64) { b.body = f },
		func(b *build, f float64) { b.head = f },
		func(b *build, f float64) { b.body = f },
	} {
		start := best
		for _, f := range builds {
			b := start
			part(&b, f)
			e.dress(b, at)
			if v := g.total(region); v > top {
				best, top = b, v
			}
		}
	}
	e.dress(best, at)
}

// dress gives the men a build.
func (e *eye) dress(b build, at map[chess.Square]frame.Spot[frame.Board]) {
	e.build = b
	e.shapes = newShapes(e.setup.Men, e.ground.eye.Z, b)
	e.place(at)
}

// total is the logarithm of the probability of some pixels under the models.
func (g *glance) total(region []int32) float64 {
	sum := 0.0
	for _, px := range region {
		g.model(px)
		sum += log1(g.base[px])
	}
	return sum
}
