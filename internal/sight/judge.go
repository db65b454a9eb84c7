// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
)

// verdict is a reading with what it rests on, kept until the caller decides.
type verdict struct {
	reading    Reading
	eye        *eye // that looked
	glance     *glance
	hypotheses []hypothesis // best first, beliefs in score
	pieces     []standing   // before, as the hypotheses count them
	left       []residual   // what the best hypothesis leaves unexplained
	lawless    bool         // no rule explains the picture, surely or not, or only with pieces that hardly look touched
}

// trust is how much belief there is in the models as a whole: where they left
// no doubt, about 99 readings in 100 of ray-traced games were right, and what
// was wrong then was something that no hypothesis foresaw. No belief goes beyond.
const trust = 0.99

// certain is the belief within the models from which a move, or none, is given
// out; below it the reader says unsure and asks. That a move is half done or a
// rule broken needs less: nothing is accepted on it.
const certain, likely = 0.97, 0.9

// least is the belief from which a state is given out.
func (s State) least() float64 {
	if s == Partial || s == Illegal {
		return likely
	}
	return certain
}

// judge weighs all hypotheses on a glance and turns the posterior into a reading.
// expected is the move under way, zero when that is not known.
func judge(e *eye, g *glance, pos *chess.Position, expected chess.Move) *verdict {
	q := newInquiry(g)
	gs := hypotheses(pos, expected)
	if g.model.phase() == meeting {
		asSaid(gs)
	}
	q.best(gs)
	for _, from := range [2]int{0, 1} {
		if from < len(gs) && gs[from].score > gs[0].score-followed {
			if s, ok := q.stray(gs[from]); ok {
				gs = append(gs, lawfulAs(s, gs))
			}
		}
	}
	byScore(gs)
	lawless := gs[0].state == Illegal
	gs = append(gs, q.excused(gs)...)
	weighKinds(g, e.met, gs)
	byScore(gs)
	if f, ok := q.fallen(&gs[0]); ok {
		gs = append(gs, f)
		byScore(gs)
	}
	normalise(gs)
	v := &verdict{eye: e, glance: g, hypotheses: gs, pieces: g.scene.pieces, lawless: lawless || gs[0].strained()}
	v.read(q, piecesOf(pos))
	v.rollCall(q)
	if s := v.reading.State; s == Same || s == Moved {
		q.attend(&v.hypotheses[0])
	}
	v.reading.Offsets = v.measured(q)
	return v
}

// followed is how many nats a hypothesis may lie behind and still be worth a second look.
const followed = 25

// lawfulAs gives a hypothesis found by straying the name of the lawful one it ended
// at: a piece taken off and put back on its square was only nudged.
func lawfulAs(s hypothesis, gs []hypothesis) hypothesis {
	for i := range gs {
		if gs[i].after == s.after && gs[i].state != Illegal {
			s.score += gs[i].prior - nudgeCost - s.prior
			s.prior, s.state, s.move = gs[i].prior, gs[i].state, gs[i].move
			return s
		}
	}
	return s
}

// read fills the reading from the hypotheses and from what they leave unexplained.
func (v *verdict) read(q *inquiry, before pieces) {
	best := &v.hypotheses[0]
	r := &v.reading
	r.State, r.Belief = best.state, v.belief(best.state, best.move)
	r.Squares = differing(before, best.after)
	if best.state == Moved {
		r.Move = best.move
	}
	if best.state != Illegal {
		v.straddle(q, best)
	}
	if r.Belief < r.State.least() {
		r.State, r.Move = Unsure, 0
	}
	v.doubt(q, best)
	v.lawless = v.lawless || r.State == Illegal
	if r.Belief < r.State.least() {
		r.State, r.Move = Unsure, 0
	}
	r.Belief *= trust
	if r.State == Unsure || r.State == Moved {
		r.Candidates = v.candidates()
	}
}

// straddle looks for a piece of the hypothesis that stands on a line.
func (v *verdict) straddle(q *inquiry, best *hypothesis) {
	r := &v.reading
	score := q.score(best.gone, best.stood)
	for k := range best.stood {
		m := &best.stood[k]
		if m.relit {
			continue
		}
		over := (q.scene.setup.aside(m.square, m.at) - onLine) * q.scene.setup.Square
		sigma := q.bluntness(best.gone, best.stood, k, score)
		share := 0.5 * math.Erfc(-over/(sigma*math.Sqrt2)) // normal distribution
		switch {
		case share > 0.5:
			r.State, r.Move, r.Belief = Illegal, 0, r.Belief*share
			r.Squares = merge(r.Squares, []chess.Square{m.square})
		default:
			r.Belief *= 1 - share
		}
	}
}

// belief sums the probability of all hypotheses that say the same.
func (v *verdict) belief(s State, m chess.Move) float64 {
	sum := 0.0
	for _, g := range v.hypotheses {
		if g.state == s && (s != Moved || g.move == m) {
			sum += g.score
		}
	}
	return sum
}

// leavesDoubt is the share of the smallest foot from which what is left unexplained
// is too much.
const leavesDoubt = 0.35

// doubt looks at what the hypotheses leave unexplained.
func (v *verdict) doubt(q *inquiry, best *hypothesis) {
	r := &v.reading
	foot := q.scene.setup.leastFoot() * 1e6
	v.left = q.residue(best)
	left := slices.Clone(v.left)
	if usual(left) > leavesDoubt*foot {
		left = slices.DeleteFunc(left, residual.onPiece)
	}
	left = slices.DeleteFunc(left, func(p residual) bool { return p.cast(&q.air) })
	common := usual(left)
	for _, p := range left {
		odd := p.inside
		switch {
		case p.onPiece() && p.foot:
			odd -= 2 * common // nobody remembers how it looks
		case p.onPiece():
			odd -= common
		}
		switch {
		case odd > 0.7*foot:
			sure := certainly(odd / foot)
			if r.State == Illegal { // whatever lies there, it is so already
				sure = math.Max(sure, r.Belief)
			}
			r.State, r.Move, r.Belief = Illegal, 0, sure
			r.Squares = merge(r.Squares, p.squares)
		case odd > leavesDoubt*foot && r.State != Illegal:
			r.Belief = math.Min(r.Belief, 0.9)
		}
	}
}

// onPiece says whether a residual lies on a piece.
func (p residual) onPiece() bool { return p.onPieces > p.area/2 }

// many is as many pieces as nobody touches at once: when they look otherwise, a
// lamp did it.
const many = 3

// usual is how much more than as many pieces show unexplained as a person can
// have touched, mm²: that much is the lamp's doing on any piece.
func usual(left []residual) float64 {
	n := 0
	for _, p := range left { // largest first
		if p.onPiece() {
			if n++; n == many {
				return p.inside
			}
		}
	}
	return 0
}

// certainly is how sure a patch of so many feet is something.
func certainly(feet float64) float64 { return 1 - 0.5*math.Exp(-2*feet) }

// candidates are the finished moves and no change, best first.
func (v *verdict) candidates() []Candidate {
	const most = 5
	var out []Candidate
	for _, g := range v.hypotheses {
		if len(out) < most && (g.state == Moved || g.state == Same) {
			out = append(out, Candidate{Move: g.move, Belief: g.score})
		}
	}
	return out
}
