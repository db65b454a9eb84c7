// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// settle tries nine places in the square.
func (q *Search) settle(gone []bool, c place, others []scene.Placement) frame.Spot[frame.Board] {
	const step = 0.18 // of the square: 1.4 σ of a piece's place
	centre := q.Scene.Setup.Centre(c.square)
	best, top := centre, nats.Impossible[nats.LogEvidence]()
	pieces := append(slices.Clone(others), scene.Placement{})
	for j := -1.0; j <= 1; j++ {
		for i := -1.0; i <= 1; i++ {
			at := centre.Add(frame.Spot[frame.Board]{X: i * step, Y: j * step}.Scale(q.Scene.Setup.Square))
			pieces[len(pieces)-1] = q.Scene.Put(c.piece, c.square, at)
			if v := q.Evidence(gone, pieces); v > top {
				best, top = at, v
			}
		}
	}
	return best
}

// climb improves the place of one piece: a parabola through five places, from
// coarse steps to fine ones.
func (q *Search) climb(gone []bool, stood []scene.Placement, k int, evidence nats.LogEvidence) nats.LogEvidence {
	if c := q.recall(gone, stood, k); c != nil {
		stood[k] = c.to
		return evidence + c.gain
	}
	from, start := footOf(&stood[k]), evidence
	q.climbs.tried = q.bounds(&stood[k])
	for step := 0.07 * q.Scene.Setup.Square; step > 0.35e-3; step /= 2 {
		for range 8 {
			before := evidence
			evidence = q.step(gone, stood, k, step, evidence)
			if evidence-before < 0.05 {
				break
			}
		}
	}
	q.keep(from, gone, stood, k, evidence-start)
	return evidence
}

// step tries one step each way and the top of the parabola through them.
func (q *Search) step(gone []bool, stood []scene.Placement, k int, step float64, evidence nats.LogEvidence) nats.LogEvidence {
	here, best := stood[k], stood[k]
	try := func(dx, dy float64) nats.LogEvidence {
		stood[k] = q.shifted(here, here.At.Add(frame.Spot[frame.Board]{X: dx, Y: dy}))
		v := q.Evidence(gone, stood)
		if v > evidence {
			evidence, best = v, stood[k]
		}
		return v
	}
	middle := evidence
	top := func(low, high nats.LogEvidence) float64 {
		bend := float64(2*middle - low - high)
		if bend <= 1e-9 {
			return 0 // no top: the best of the three stands
		}
		return max(-1.5, min(1.5, float64(high-low)/(2*bend))) * step
	}
	x := top(try(-step, 0), try(step, 0))
	y := top(try(0, -step), try(0, step))
	if x != 0 || y != 0 {
		try(x, y)
	}
	stood[k] = best
	return evidence
}

// shifted is the piece at another place; a piece that was only nudged remembers
// how far its picture moved.
func (q *Search) shifted(m scene.Placement, at frame.Spot[frame.Board]) scene.Placement {
	n := q.Scene.Put(m.Piece, m.Square, at)
	n.Nudged, n.Plain, n.Sigma = m.Nudged, m.Plain, m.Sigma
	q.climbs.tried = q.climbs.tried.With(q.bounds(&n))
	if n.Nudged != nil {
		n.Shift = q.Scene.Plane.Displacement(*n.Nudged, at)
	}
	return n
}

// halfway looks for a touched piece, the last of the standing, halfway to a
// neighbouring square, where no climb from its old place may lead.
func (q *Search) halfway(gone []bool, stood []scene.Placement, m scene.Placement) (nats.LogEvidence, scene.Placement) {
	square, at := q.Scene.Setup.Square, len(stood)-1
	here := stood[at]
	best, top := m, nats.Impossible[nats.LogEvidence]()
	for _, d := range [4]frame.Spot[frame.Board]{{X: scene.InPlace}, {X: -scene.InPlace}, {Y: scene.InPlace}, {Y: -scene.InPlace}} {
		stood[at] = q.shifted(m, q.Scene.Setup.Centre(m.Square).Add(d.Scale(square)))
		if v := q.Evidence(gone, stood); v > top {
			best, top = stood[at], v
		}
	}
	stood[at] = best
	top = q.climb(gone, stood, at, top)
	best, stood[at] = stood[at], here
	return top, best
}
