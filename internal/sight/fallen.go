// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

const (
	layings = 16 // directions tried
	// fallPrior is the logarithm of the prior that a piece seen changed has
	// fallen, in some direction: people set pieces down upright.
	fallPrior = -5.0
)

// lay puts a fallen piece on the board: its foot's middle at a place, its head
// towards an angle.
func (q *inquiry) lay(p chess.Piece, s chess.Square, at frame.Spot[frame.Board], angle float64) standing {
	g := q.scene.ground
	return standing{piece: p, square: s, at: at, reach: at.Sub(g.Camera.Spot()).Norm(),
		covers: q.scene.shapes.CoverFallen(g, p.Kind(), at, angle)}
}

// leftOver is the share of a foot that a finished move must leave unexplained
// before a piece of it may have fallen: a lying piece hides its shadow and an odd
// head better than the outline of a standing one, yet leaves a head's length
// of the standing one's picture bare.
const leftOver = 0.15

// fallen looks for a piece of a hypothesis that lies instead of standing. It returns
// the hypothesis with the piece lying, and false when none is likelier so, or when
// everything is explained by a finished move.
func (q *inquiry) fallen(g *hypothesis) (hypothesis, bool) {
	best, found := *g, false
	if g.state == Moved && q.unexplained(g) < leftOver*q.scene.setup.leastFoot()*1e6 {
		return best, false
	}
	try := func(gone []bool, rest []standing, m standing) {
		c := *g
		c.state, c.move = Illegal, 0
		c.prior += fallPrior
		c.gone = gone
		c.after[m.square] = chess.NoPiece
		v, lain := q.laid(gone, rest, m)
		if c.score = v + c.prior; c.score > best.score {
			c.stood = append(slices.Clone(rest), lain)
			best, found = c, true
		}
	}
	for k := range g.stood { // nudged; one that arrived is judged by what it leaves unexplained
		if m := &g.stood[k]; m.nudged != nil && (!m.relit || q.doubtful(g, m)) {
			try(g.gone, slices.Delete(slices.Clone(g.stood), k, k+1), g.stood[k])
		}
	}
	for k := range q.scene.pieces { // standing where they stood
		if !g.gone[k] && q.disturbed(k) > disturbance {
			gone := slices.Clone(g.gone)
			gone[k] = true
			try(gone, g.stood, q.scene.pieces[k])
		}
	}
	return best, found
}

// doubtful says whether an arrived piece leaves pixels unexplained.
func (q *inquiry) doubtful(g *hypothesis, m *standing) bool {
	odd := q.below(g, float32(strange*q.air.Flat))
	bad := 0
	for _, c := range m.covers {
		if odd[c.Pixel] {
			bad++
		}
	}
	return float64(bad) > disturbance*float64(len(m.covers))
}

// laid is the best way a piece can lie near its square. The offset prior of a
// standing piece does not hold for it.
func (q *inquiry) laid(gone []bool, rest []standing, m standing) (float64, standing) {
	top, best := math.Inf(-1), m
	pieces := append(slices.Clone(rest), standing{})
	prior := 0.0
	for k := range rest {
		prior += q.placed(&rest[k])
	}
	put := func(at frame.Spot[frame.Board], angle float64) {
		if !q.room(gone, rest, m.piece.Kind(), at, angle) {
			return
		}
		pieces[len(pieces)-1] = q.lay(m.piece, m.square, at, angle)
		if v := q.weigh(gone, pieces) + prior; v > top {
			top, best = v, pieces[len(pieces)-1]
		}
	}
	h := q.scene.setup.Pieces[m.piece.Kind()].Height
	turn := 0.0
	for k := range layings {
		angle := 2 * math.Pi * float64(k) / layings
		back := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}.Scale(-0.35 * h)
		for _, at := range [2]frame.Spot[frame.Board]{m.at, q.scene.setup.centre(m.square).Add(back)} {
			before := top
			if put(at, angle); top > before {
				turn = angle
			}
		}
	}
	for step := 6e-3; step > 1e-3; step /= 2 {
		at := best.at
		for _, d := range [4]frame.Spot[frame.Board]{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
			put(at.Add(d), turn)
		}
		before := top
		for _, a := range [2]float64{step * 25, -step * 25} { // 6 mm: 9 degrees
			if put(best.at, turn+a); top > before {
				before, turn = top, turn+a
			}
		}
	}
	return top, best
}

// room says whether a piece can lie at a place, its head towards an angle,
// without lying in another's foot.
func (q *inquiry) room(gone []bool, rest []standing, k chess.Kind, at frame.Spot[frame.Board], angle float64) bool {
	u := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}
	h := q.scene.setup.Pieces[k].Height
	free := func(o *standing) bool {
		d := o.at.Sub(at)
		t := math.Max(0, math.Min(h, d.Dot(u)))
		far := d.Sub(u.Scale(t)).Norm()
		return far > 0.8*(q.scene.setup.Pieces[o.piece.Kind()].Base/2+q.scene.shapes.Radius(k, t/h))
	}
	for i := range q.scene.pieces {
		if !gone[i] && !free(&q.scene.pieces[i]) {
			return false
		}
	}
	for i := range rest {
		if !free(&rest[i]) {
			return false
		}
	}
	return true
}

// unexplained is how much of the field a hypothesis leaves unexplained, mm².
func (q *inquiry) unexplained(g *hypothesis) float64 {
	sum := 0.0
	for _, p := range q.residue(g) {
		sum += p.inside
	}
	return sum
}
