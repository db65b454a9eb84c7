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
	glance     *glance
	hypotheses []hypothesis // best first, beliefs in score
	pieces     []standing   // before, as the hypotheses count them
	left       []spill      // what the best hypothesis leaves unexplained
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
func judge(g *glance, pos *chess.Position, expected chess.Move) *verdict {
	q := newInquiry(g)
	gs := hypotheses(pos, expected)
	if g.eye.last == nil {
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
	q.humble(gs)
	byScore(gs)
	if f, ok := q.fallen(&gs[0]); ok {
		gs = append(gs, f)
		byScore(gs)
	}
	normalise(gs)
	v := &verdict{glance: g, hypotheses: gs, pieces: g.eye.pieces, lawless: lawless || gs[0].strained()}
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

// kindShare is how much of the evidence of the outlines between two kinds of piece
// on one square counts: they are generic, and sets differ from them by as much as
// a knight differs from a bishop: eight nats for the wrong one have been seen.
const kindShare = 0.3

// humble takes back part of what the outlines say of the kinds of a promotion,
// or of a pawn not yet exchanged, and adds what the head says; what all of
// them have together stays.
func (q *inquiry) humble(gs []hypothesis) {
	kinds := map[chess.Move][]*hypothesis{} // by the pawn's squares
	best := math.Inf(-1)
	for i := range gs {
		best = max(best, gs[i].score)
		m := gs[i].move
		if m.Promotion() != chess.NoKind && gs[i].after[m.From()] == chess.NoPiece && gs[i].promoted() != nil {
			pawn := chess.MakeMove(m.From(), m.To(), chess.NoKind)
			kinds[pawn] = append(kinds[pawn], &gs[i])
		}
	}
	for _, k := range kinds {
		top := math.Inf(-1)
		for _, g := range k {
			top = max(top, g.score-g.prior)
		}
		if top > best-followed {
			q.tell(k, top)
		}
	}
}

// undecided is the least doubt, shared by all, that stays on a move with contested
// kinds: more than any answer may have.
const undecided = 0.15

// tell weighs the kinds of one promotion anew; top is the best score of any of
// them without its prior.
func (q *inquiry) tell(kinds []*hypothesis, top float64) {
	head, contested := q.named(kinds)
	before, after := 0.0, 0.0
	now := make([]float64, len(kinds))
	for n, g := range kinds {
		now[n] = math.Exp(g.prior + kindShare*(g.score-g.prior-top) + head[n])
		before, after = before+math.Exp(g.score-top), after+now[n]
	}
	move := kinds[slices.Index(now, slices.Max(now))].state == Moved
	for n, g := range kinds {
		p := now[n] / after
		if contested && move {
			p = (1-undecided)*p + undecided/float64(len(kinds))
		}
		g.score = top + math.Log(before*p)
	}
}

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

// normalise turns scores into probabilities.
func normalise(gs []hypothesis) {
	top, sum := gs[0].score, 0.0
	for i := range gs {
		gs[i].nats = gs[i].score - top
		gs[i].score = math.Exp(gs[i].nats)
		sum += gs[i].score
	}
	for i := range gs {
		gs[i].score /= sum
	}
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

// onLine is how far from the middle, as a share of the square, a piece's foot
// may stand and still count as in the square: beyond, its middle is nearer to
// the line than an eighth of the square, and players would ask as well.
const onLine = 0.375

// straddle looks for a piece of the hypothesis that stands on a line.
func (v *verdict) straddle(q *inquiry, best *hypothesis) {
	r := &v.reading
	score := q.score(best.gone, best.stood)
	for k := range best.stood {
		m := &best.stood[k]
		if m.relit {
			continue
		}
		over := (q.eye.setup.aside(m.square, m.at) - onLine) * q.eye.setup.Square
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
	foot := q.eye.setup.leastFoot() * 1e6
	v.left = q.residue(best)
	left := slices.Clone(v.left)
	if usual(left) > leavesDoubt*foot {
		left = slices.DeleteFunc(left, spill.onPiece)
	}
	left = slices.DeleteFunc(left, func(p spill) bool { return p.cast(&q.air) })
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

// onMan says whether a spill lies on a piece.
func (p spill) onPiece() bool { return p.onPieces > p.area/2 }

// many is as many pieces as nobody touches at once: when they look otherwise, a
// lamp did it.
const many = 3

// usual is how much more than as many pieces show unexplained as a person can
// have touched, mm²: that much is the lamp's doing on any piece.
func usual(left []spill) float64 {
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

// reached says whether something larger than a piece reaches over the board's
// edge: too small or too little to be seen for a hand by itself, but a hand
// when no rule explains what it did to the board.
func (e *eye) reached(over []spill) (spill, bool) {
	square := e.setup.Square * e.setup.Square * 1e6
	for _, p := range over {
		if p.brink && p.sheet > square {
			return p, true
		}
	}
	return spill{}, false
}

// certainly is how sure a patch of so many feet is something.
func certainly(feet float64) float64 { return 1 - 0.5*math.Exp(-2*feet) }

// leastFoot is the area of the smallest foot, m².
func (s Setup) leastFoot() float64 {
	d := math.Inf(1)
	for k := chess.Pawn; k <= chess.King; k++ {
		d = math.Min(d, s.Pieces[k].Base)
	}
	return math.Pi / 4 * d * d
}

func merge(a, b []chess.Square) []chess.Square {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}

// differing lists the squares on which two boards differ.
func differing(a, b pieces) []chess.Square {
	var out []chess.Square
	for s := range a {
		if a[s] != b[s] {
			out = append(out, chess.Square(s))
		}
	}
	return out
}

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
