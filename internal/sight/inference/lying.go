// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Lying looks on the board for pieces that a hypothesis has taken off it and that may have
// fallen there, over and against standing ones too: these look touched then, and are weighed
// anew beside what lies over them. Where a rule is broken, pieces that it has displaced are
// looked for too. It returns the hypothesis with the pieces lying, and false when none is
// likelier so, or when a finished move is all that happened.
func (q *Search) Lying(g *hypothesis.Hypothesis) (hypothesis.Hypothesis, bool) {
	best, found := *g, false
	if g.State != hypothesis.Partial && g.State != hypothesis.Illegal {
		return best, false
	}
	try := func(from *hypothesis.Hypothesis, k int) {
		if !q.isLost(from, k) || q.Spent > strayMost {
			return
		}
		if c, ok := q.fallenOver(from, k); ok && c.Posterior > best.Posterior {
			best, found = c, true
		}
	}
	for k := range q.Scene.Pieces {
		try(&best, k)
		for _, without := range q.displacedAs(&best, q.Scene.Pieces[k].Piece) {
			try(&without, k)
		}
	}
	return best, found
}

// displacedAs lists a hypothesis that breaks a rule without each of the pieces that it has
// come to where no rule puts them, of those that are the same as one.
func (q *Search) displacedAs(g *hypothesis.Hypothesis, p chess.Piece) (out []hypothesis.Hypothesis) {
	for i := range g.Stood {
		if m := &g.Stood[i]; g.State == hypothesis.Illegal && m.Piece == p && m.Nudged == nil && !m.Lies {
			c := *g
			c.After[m.Square] = chess.NoPiece
			c.Stood = slices.Delete(slices.Clone(g.Stood), i, i+1)
			out = append(out, c)
		}
	}
	return out
}

// isLost says whether a piece of the scene is nowhere under a hypothesis.
func (q *Search) isLost(g *hypothesis.Hypothesis, k int) bool {
	m := &q.Scene.Pieces[k]
	if !g.Gone[k] || g.Arrived(m.Square) != nil {
		return false
	}
	n := 0
	for s := range g.After {
		if g.After[s] == m.Piece {
			n++
		}
		if q.Scene.Board[s] == m.Piece {
			n--
		}
	}
	for i := range g.Stood {
		if g.Stood[i].Lies && g.Stood[i].Piece == m.Piece {
			n++
		}
	}
	return n < 0
}

// fallenOver is a hypothesis with a piece lying that it has lost, wherever the picture is
// not explained once the others are thought untouched; false if that is nowhere.
func (q *Search) fallenOver(g *hypothesis.Hypothesis, k int) (hypothesis.Hypothesis, bool) {
	c := *g
	c.State, c.Move, c.Prior = hypothesis.Illegal, 0, g.Prior+fallPrior+leansPrior
	nudged := q.undoNudges(&c)
	m, ok := q.anywhere(&c, q.Scene.Pieces[k].Piece)
	if !ok {
		return c, false
	}
	c.Stood = append(c.Stood, m)
	c.Evidence = q.Evidence(c.Gone, c.Stood)
	for _, n := range nudged {
		q.tryNudge(&c, n, true, true)
	}
	c.Posterior = c.Evidence.Posterior(c.Prior)
	return c, true
}

// undoNudges puts all pieces of a hypothesis back that were only touched, and lists them.
func (q *Search) undoNudges(g *hypothesis.Hypothesis) (nudged []int) {
	g.Gone = slices.Clone(g.Gone)
	for k := range q.Scene.Pieces {
		if m := g.Arrived(q.Scene.Pieces[k].Square); m != nil && m.Nudged != nil {
			g.Gone[k] = false
			nudged = append(nudged, k)
		}
	}
	g.Stood = slices.DeleteFunc(slices.Clone(g.Stood), func(m scene.Placement) bool { return m.Nudged != nil })
	return nudged
}

// anywhere is the best way a piece can lie where a hypothesis leaves the picture unexplained;
// false if it leaves nothing so.
func (q *Search) anywhere(g *hypothesis.Hypothesis, p chess.Piece) (scene.Placement, bool) {
	left := q.Residuals(g)
	h := q.Scene.Setup.Pieces[p.Kind()].Height
	pieces := append(slices.Clone(g.Stood), scene.Placement{})
	top, best, turn := nats.Impossible[nats.LogEvidence](), scene.Placement{}, 0.0
	put := func(at frame.Spot[frame.Board], angle float64) {
		pieces[len(pieces)-1] = q.lay(p, at, angle)
		if v := q.Evidence(g.Gone, pieces); v > top {
			top, best, turn = v, pieces[len(pieces)-1], angle
		}
	}
	for _, r := range left[:min(lostSpots, len(left))] {
		for k := range fallenDirections {
			angle := 2 * math.Pi * float64(k) / fallenDirections
			axis := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}
			for _, back := range [3]float64{-0.8, -0.5, -0.2} {
				put(r.middle.Add(axis.Scale(back*h)), angle)
			}
		}
	}
	if len(left) > 0 {
		q.climbLying(put, &best, &turn)
	}
	return best, len(left) > 0
}

// climbLying improves the place and the direction of a lying piece, from coarse steps to fine
// ones: put tries one and keeps the best.
func (q *Search) climbLying(put func(at frame.Spot[frame.Board], angle float64), best *scene.Placement, turn *float64) {
	for step := 6e-3; step > 1e-3; step /= 2 {
		for range 4 {
			at, angle := best.At, *turn
			for _, d := range [4]frame.Spot[frame.Board]{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
				put(best.At.Add(d), *turn)
			}
			for _, a := range [2]float64{step * 25, -step * 25} { // 6 mm: 9 degrees
				put(best.At, *turn+a)
			}
			if best.At == at && *turn == angle {
				break
			}
		}
	}
}
