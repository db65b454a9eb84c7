// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/numeric"
)

const (
	// plumb is what the generic profiles, the lens and the models of colour leave
	// of a systematic error in a piece's place, metres, σ, if it could not be told
	// better from its ground.
	plumb = 0.5e-3
	// feel is the step by which the sharpness of a fit is measured, metres.
	feel = 0.8e-3
)

// measure fits the place of a piece among the rest and says how sure it is.
func (q *inquiry) measure(k int) (frame.Spot[frame.Board], float64) {
	gone := make([]bool, len(q.scene.pieces))
	gone[k] = true
	m := q.scene.pieces[k]
	m.nudged = nil
	stood := []standing{m}
	top := q.climb(gone, stood, 0, q.score(gone, stood))
	return stood[0].at, q.vagueness(gone, stood, 0, top)
}

// survey measures every piece of the first picture among the others as they were
// last thought to stand.
func (q *inquiry) survey(board pieces, at map[chess.Square]frame.Spot[frame.Board], sigma map[chess.Square]float64) {
	sc := q.scene
	sc.board = board
	sc.place(at)
	q.updateBases()
	for k := range sc.pieces {
		s := sc.pieces[k].square
		at[s], sigma[s] = q.measure(k)
	}
	sc.place(at)
}

// sharpness is the σ of the place of a standing piece of a hypothesis.
func (q *inquiry) sharpness(g *hypothesis, k int) float64 {
	if g.stood[k].relit {
		return g.stood[k].sigma
	}
	sigma := q.vagueness(g.gone, g.stood, k, q.score(g.gone, g.stood))
	if g.stood[k].nudged != nil {
		return max(sigma, g.stood[k].sigma) // it was measured from where it stood
	}
	return sigma
}

// bluntness is the σ of a fitted place from the fall of the score around it.
func (q *inquiry) bluntness(gone []bool, stood []standing, k int, top float64) float64 {
	v := q.variance(gone, stood, k, top)
	if math.IsInf(v, 1) {
		return slack * q.scene.setup.Square
	}
	return math.Sqrt(v + plumb*plumb)
}

// variance is that of a fitted place by the fall of the score around it; +Inf
// when the picture says less than where people set pieces down.
func (q *inquiry) variance(gone []bool, stood []standing, k int, top float64) float64 {
	here := stood[k]
	fall := 0.0
	for _, d := range [4]frame.Spot[frame.Board]{{X: feel}, {X: -feel}, {Y: feel}, {Y: -feel}} {
		stood[k] = q.shifted(here, here.at.Add(d))
		fall += top - q.score(gone, stood)
	}
	stood[k] = here
	if loose := slack * q.scene.setup.Square; !(fall > 4*feel*feel/(2*loose*loose)) {
		return math.Inf(1)
	}
	return 4 * feel * feel / (2 * fall) // fall of four steps of δ²/2σ²
}

// vagueness is bluntness where a piece looks like its ground or its shadow: the
// score may hardly fall for millimetres though it falls close by, and the errors
// of the models move it farther. The routes need it; which square it stands on
// is judged by the picture alone.
func (q *inquiry) vagueness(gone []bool, stood []standing, k int, top float64) float64 {
	v := max(q.variance(gone, stood, k, top), q.spread(gone, stood, k, top))
	rest := plumb / q.contrast(&stood[k])
	return min(slack*q.scene.setup.Square, math.Sqrt(v+rest*rest))
}

// contrast is how well a piece can be told from the ground under it, up to 1.
func (q *inquiry) contrast(m *standing) float64 {
	const least = 0.1
	sum, n := 0.0, 0.0
	for _, c := range m.covers {
		if c.Alpha < 0.5 {
			continue
		}
		ground := q.bared[c.Pixel]
		if ground == 0 {
			ground = q.still[c.Pixel] // as it was: nobody has asked
		}
		sum += min(unlikely, math.Abs(numeric.Log(q.piece(c.Pixel, m.piece, c.Band))-numeric.Log(ground)))
		n++
	}
	return max(least, sum/unlikely/max(1, n))
}

// spread is the variance of the place of a piece along the line on which it is
// known worst, by the places on a coarse grid of a few millimetres around it.
func (q *inquiry) spread(gone []bool, stood []standing, k int, top float64) float64 {
	const reach = 2
	step := slack / reach * q.scene.setup.Square
	here, all := stood[k], 1.0
	var xx, xy, yy float64
	for j := -reach; j <= reach; j++ {
		for i := -reach; i <= reach; i++ {
			if i == 0 && j == 0 {
				continue
			}
			d := frame.Spot[frame.Board]{X: float64(i), Y: float64(j)}.Scale(step)
			stood[k] = q.shifted(here, here.at.Add(d))
			w := math.Exp(min(0, q.score(gone, stood)-top))
			all, xx, xy, yy = all+w, xx+w*d.X*d.X, xy+w*d.X*d.Y, yy+w*d.Y*d.Y
		}
	}
	stood[k] = here
	return ((xx+yy)/2 + math.Hypot((xx-yy)/2, xy)) / all // the larger eigenvalue
}
