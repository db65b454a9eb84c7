package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
)

// verdict is a reading with what it rests on, kept until the caller decides.
type verdict struct {
	reading Reading
	glance  *glance
	guesses []guess    // best first, beliefs in score
	men     []standing // before, as the guesses count them
	left    []spill    // what the best guess leaves unexplained
}

// certain is the belief from which a state is given out; below it the reader
// says unsure and asks.
const certain = 0.97

// judge weighs all guesses on a glance and turns the posterior into a reading.
func judge(g *glance, pos *chess.Position) *verdict {
	q := newInquiry(g)
	gs := q.best(guesses(pos))
	const close = 25 // nats: what lies further behind is not worth a second look
	for _, from := range [2]int{0, 1} {
		if from < len(gs) && gs[from].score > gs[0].score-close {
			if s, ok := q.stray(gs[from]); ok {
				gs = append(gs, lawfulAs(s, gs))
			}
		}
	}
	byScore(gs)
	if f, ok := q.fallen(&gs[0]); ok {
		gs = append(gs, f)
		byScore(gs)
	}
	normalise(gs)
	v := &verdict{glance: g, guesses: gs, men: g.eye.men}
	v.read(q, menOf(pos))
	return v
}

// lawfulAs gives a guess found by straying the name of the lawful one it ended
// at: a man taken off and put back on its square was only nudged.
func lawfulAs(s guess, gs []guess) guess {
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
func normalise(gs []guess) {
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

// read fills the reading from the guesses and from what they leave unexplained.
func (v *verdict) read(q *inquiry, before men) {
	best := &v.guesses[0]
	r := &v.reading
	r.State, r.Belief = best.state, v.belief(best.state, best.move)
	r.Squares = differing(before, best.after)
	if best.state == Moved {
		r.Move = best.move
	}
	if best.state != Illegal {
		v.straddle(q, best)
	}
	if r.Belief < certain {
		r.State, r.Move = Unsure, 0
	}
	v.doubt(q, best)
	if r.State == Illegal && best.state != Illegal {
		if p, ok := q.hand(v, q.residue(best)); ok {
			*r = Reading{State: Hand, Belief: busyBelief, Squares: p.squares}
		}
	}
	if r.State != Hand && r.Belief < certain {
		r.State, r.Move = Unsure, 0
	}
	if r.State == Unsure || r.State == Moved {
		r.Candidates = v.candidates()
	}
}

// onLine is how far from the middle, as a share of the square, a man's foot
// may stand and still count as in the square: beyond, its middle is nearer to
// the line than an eighth of the square, and players would ask as well.
const onLine = 0.375

// straddle looks for a man of the guess that stands on a line.
func (v *verdict) straddle(q *inquiry, best *guess) {
	r := &v.reading
	for k := range best.stood {
		m := &best.stood[k]
		d := m.at.Sub(q.eye.setup.centre(m.square))
		over := math.Max(math.Abs(d.X), math.Abs(d.Y)) - onLine*q.eye.setup.Square
		sigma := q.sharpness(best.gone, best.stood, k, q.score(best.gone, best.stood))
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

// belief sums the probability of all guesses that say the same.
func (v *verdict) belief(s State, m chess.Move) float64 {
	sum := 0.0
	for _, g := range v.guesses {
		if g.state == s && (s != Moved || g.move == m) {
			sum += g.score
		}
	}
	return sum
}

// doubt looks at what the guesses leave unexplained.
func (v *verdict) doubt(q *inquiry, best *guess) {
	r := &v.reading
	foot := q.eye.setup.leastFoot() * 1e6
	left := q.residue(best)
	v.left = left
	if p, ok := q.hand(v, left); ok {
		*r = Reading{State: Hand, Belief: certainly(p.area / foot), Squares: p.squares}
		return
	}
	for _, p := range left {
		switch {
		case p.inside > 0.7*foot:
			r.State, r.Move, r.Belief = Illegal, 0, certainly(p.inside/foot)
			r.Squares = merge(r.Squares, p.squares)
		case p.inside > 0.35*foot && r.State != Illegal:
			r.Belief = math.Min(r.Belief, 0.9)
		}
	}
}

// lawful is the best guess without men where no rule puts them.
func (v *verdict) lawful() *guess {
	for i := range v.guesses {
		if v.guesses[i].state != Illegal {
			return &v.guesses[i]
		}
	}
	return &v.guesses[0]
}

// hand looks for something that reaches in over the board from outside, or
// hides much of it: it is large under the best lawful guess, and men set down
// against the rules do not explain it whole.
func (q *inquiry) hand(v *verdict, left []spill) (spill, bool) {
	const sliver = 0.3 // of a foot: what a man's generic outline may leave over
	square := q.eye.setup.Square * q.eye.setup.Square * 1e6
	foot := q.eye.setup.leastFoot() * 1e6
	still := 0.0
	for _, p := range left {
		if p.outside || p.inside > square {
			still += p.area
		}
	}
	if p, ok := q.clutter(v.guesses[0].after, left); ok && v.reading.State == Illegal {
		return p, true
	}
	var beside spill
	for _, p := range q.residue(v.lawful()) {
		reaches := p.outside && p.inside > 0.1*foot && p.area > 0.35*foot || p.inside > 2*square
		if reaches && still > sliver*foot {
			return p, true
		}
		if p.outside && p.area > 0.5*foot {
			beside.area += p.area
			beside.inside += p.inside
			beside.sheet += p.sheet
			beside.squares = merge(beside.squares, p.squares)
		}
	}
	return beside, q.intrudes(beside, v.reading.State)
}

// clutter says whether the men that were guessed against the rules are rather
// pieces of a hand: three or more squares in one patch that begins at the
// board's edge, and much of it still unexplained.
func (q *inquiry) clutter(after men, left []spill) (spill, bool) {
	const few = 3
	var p spill
	p.squares = differing(q.eye.board, after)
	if len(p.squares) < few || !patchFromEdge(p.squares) {
		return p, false
	}
	for _, l := range left {
		p.inside += l.inside
	}
	p.area = p.inside
	return p, p.inside > 0.5*q.eye.setup.leastFoot()*1e6
}

// patchFromEdge says whether squares hang together, by sides or corners, and
// one of them lies on the board's edge.
func patchFromEdge(squares []chess.Square) bool {
	seen := map[chess.Square]bool{}
	queue := squares[:1:1]
	seen[squares[0]] = true
	edge := false
	for len(queue) > 0 {
		s := queue[0]
		queue = queue[1:]
		edge = edge || s.File() == 0 || s.File() == 7 || s.Rank() == 0 || s.Rank() == 7
		for _, o := range squares {
			if df, dr := s.File()-o.File(), s.Rank()-o.Rank(); !seen[o] && df*df <= 1 && dr*dr <= 1 {
				seen[o] = true
				queue = append(queue, o)
			}
		}
	}
	return edge && len(seen) == len(squares)
}

// intrudes says whether something too large for a man has come up beside the
// board, and what is seen on the board is better put down to it.
func (q *inquiry) intrudes(p spill, s State) bool {
	const large = 0.6 // of a square: no man beside the board is
	square := q.eye.setup.Square * q.eye.setup.Square * 1e6
	if p.area-p.inside < large*square {
		return false
	}
	touch := 0.3
	if s == Moved { // a hand that still holds the man must not pass for a finished move
		touch = 0.05
	}
	return s == Illegal || s == Partial || s == Unsure || p.sheet > touch*q.eye.setup.leastFoot()*1e6
}

// certainly is how sure a patch of so many feet is something.
func certainly(feet float64) float64 { return 1 - 0.5*math.Exp(-2*feet) }

// leastFoot is the area of the smallest foot, m².
func (s Setup) leastFoot() float64 {
	d := math.Inf(1)
	for k := chess.Pawn; k <= chess.King; k++ {
		d = math.Min(d, s.Men[k].Base)
	}
	return math.Pi / 4 * d * d
}

func merge(a, b []chess.Square) []chess.Square {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}

// differing lists the squares on which two boards differ.
func differing(a, b men) []chess.Square {
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
	for _, g := range v.guesses {
		if len(out) < most && (g.state == Moved || g.state == Same) {
			out = append(out, Candidate{Move: g.move, Belief: g.score})
		}
	}
	return out
}
