// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// lay puts a fallen piece on the board: its base's middle at a place, its head
// towards an angle. Its square is the one that its own middle lies in.
func (q *Search) lay(p chess.Piece, at frame.Spot[frame.Board], angle float64) scene.Placement {
	g := q.Scene.Plane
	axis := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}
	s := q.Scene.Setup.SquareAt(at.Add(axis.Scale(q.Scene.Setup.Pieces[p.Kind()].Height / 2)))
	return scene.Placement{Piece: p, Square: s, At: at, Lies: true, Reach: at.Sub(g.Camera.Spot()).Norm(),
		Covers: q.Scene.Outlines.CoverFallen(g, p.Kind(), at, angle)}
}

// Fallen looks for a piece of a hypothesis that lies instead of standing. It returns
// the hypothesis with the piece lying, and false when none is likelier so, or when
// everything is explained by a finished move.
func (q *Search) Fallen(g *hypothesis.Hypothesis) (hypothesis.Hypothesis, bool) {
	best, found := *g, false
	if g.State == hypothesis.Moved && q.Unexplained(g) < fallenLeast*q.Scene.Setup.LeastBase()*1e6 {
		return best, false
	}
	try := func(gone []bool, rest []scene.Placement, m scene.Placement) {
		c := *g
		c.State, c.Move = hypothesis.Illegal, 0
		c.Prior += fallPrior
		c.Gone = gone
		c.After[m.Square] = chess.NoPiece
		v, lain := q.laid(gone, rest, m)
		if c.Posterior = v.Posterior(c.Prior); c.Posterior > best.Posterior {
			c.Stood = append(slices.Clone(rest), lain)
			best, found = c, true
		}
	}
	for k := range g.Stood { // nudged; one that arrived is judged by what it leaves unexplained
		if m := &g.Stood[k]; m.Nudged != nil && (!m.Relit || q.doubtful(g, m)) {
			try(g.Gone, slices.Delete(slices.Clone(g.Stood), k, k+1), g.Stood[k])
		}
	}
	for k := range q.Scene.Pieces { // standing where they stood
		if !g.Gone[k] && q.disturbed(k) > disturbance {
			gone := slices.Clone(g.Gone)
			gone[k] = true
			try(gone, g.Stood, q.Scene.Pieces[k])
		}
	}
	return best, found
}

// doubtful says whether an arrived piece leaves pixels unexplained.
func (q *Search) doubtful(g *hypothesis.Hypothesis, m *scene.Placement) bool {
	odd := q.Below(g.Gone, g.Stood, float32(likelihood.Strange*q.Conditions.OutlierDensity))
	bad := 0
	for _, c := range m.Covers {
		if odd[c.Pixel] {
			bad++
		}
	}
	return float64(bad) > disturbance*float64(len(m.Covers))
}

// laid is the best way a piece can lie near its square. The offset prior of a
// standing piece does not hold for it.
func (q *Search) laid(gone []bool, rest []scene.Placement, m scene.Placement) (nats.LogEvidence, scene.Placement) {
	top, best := nats.Impossible[nats.LogEvidence](), m
	pieces := append(slices.Clone(rest), scene.Placement{})
	prior := nats.LogPrior(0)
	for k := range rest {
		prior += q.placed(&rest[k])
	}
	put := func(at frame.Spot[frame.Board], angle float64) {
		if !q.room(gone, rest, m.Piece.Kind(), at, angle) {
			return
		}
		pieces[len(pieces)-1] = q.lay(m.Piece, at, angle)
		if v := q.Weigh(gone, pieces).With(prior); v > top {
			top, best = v, pieces[len(pieces)-1]
		}
	}
	h := q.Scene.Setup.Pieces[m.Piece.Kind()].Height
	turn := 0.0
	for k := range fallenDirections {
		angle := 2 * math.Pi * float64(k) / fallenDirections
		back := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}.Scale(-0.35 * h)
		for _, at := range [2]frame.Spot[frame.Board]{m.At, q.Scene.Setup.Centre(m.Square).Add(back)} {
			before := top
			if put(at, angle); top > before {
				turn = angle
			}
		}
	}
	for step := 6e-3; step > 1e-3; step /= 2 {
		at := best.At
		for _, d := range [4]frame.Spot[frame.Board]{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
			put(at.Add(d), turn)
		}
		before := top
		for _, a := range [2]float64{step * 25, -step * 25} { // 6 mm: 9 degrees
			if put(best.At, turn+a); top > before {
				before, turn = top, turn+a
			}
		}
	}
	return top, best
}

// room says whether a piece can lie at a place, its head towards an angle,
// without lying in another's base.
func (q *Search) room(gone []bool, rest []scene.Placement, k chess.Kind, at frame.Spot[frame.Board], angle float64) bool {
	u := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}
	h := q.Scene.Setup.Pieces[k].Height
	free := func(o *scene.Placement) bool {
		d := o.At.Sub(at)
		t := math.Max(0, math.Min(h, d.Dot(u)))
		far := d.Sub(u.Scale(t)).Norm()
		return far > 0.8*(q.Scene.Setup.Pieces[o.Piece.Kind()].Base/2+q.Scene.Outlines.Radius(k, t/h))
	}
	for i := range q.Scene.Pieces {
		if !gone[i] && !free(&q.Scene.Pieces[i]) {
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
