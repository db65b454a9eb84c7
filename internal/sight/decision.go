// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/tracking"
)

// decision is a reading with what it rests on, kept until the caller decides.
type decision struct {
	reading     Reading
	tracker     *tracking.Tracker // that looked
	observation *likelihood.Observation
	search      *inference.Search
	hypotheses  []hypothesis.Hypothesis   // best first
	pieces      []scene.Placement         // before, as the hypotheses count them
	residuals   []inference.Residual      // what the best hypothesis leaves unexplained
	things      []frame.Spot[frame.Board] // what lay there in an earlier first picture, or does in this
	lain        []chess.Square            // of these, what was read past
	expected    chess.Move                // that is under way; zero when that is not known
	isLawless   bool                      // no rule explains the picture, surely or not, or only with pieces that hardly look touched
}

// leastBelief is the belief from which a state is given out.
func leastBelief(s State) float64 {
	if s == Partial || s == Illegal {
		return likely
	}
	return certain
}

// decide weighs all hypotheses on an observation and turns the posterior into a reading.
// expected is the move under way, zero when that is not known. Each step needs those
// before it, and none is done twice.
func decide(e *tracking.Tracker, g *likelihood.Observation, pos *chess.Position, expected chess.Move) *decision {
	v := &decision{tracker: e, observation: g, search: inference.New(g), pieces: g.Scene.Pieces, expected: expected}
	v.enumerate(pos)
	v.weighLawful()
	v.displace()  // pieces where no rule puts them
	v.adjust()    // pieces set straight that hardly look touched, before a rule is said to be broken
	v.classify()  // the kinds of a promotion, by their heads
	v.addFallen() // a piece that lies, once the head of the list is known
	v.conclude(pos)
	return v
}

// conclude turns what was weighed into a reading: no hypothesis is weighed any more.
func (v *decision) conclude(pos *chess.Position) {
	v.believe() // posteriors become beliefs
	v.read(scene.OccupancyOf(pos))
	v.checkStart() // the first picture only: was the announced position doubted wrongly?
	v.attend()     // of what is given out: pieces that were set straight besides
	v.measure()
}

// pursue looks for several plies, up to most, where no single one explains the picture.
func (v *decision) pursue(pos *chess.Position, most int) {
	if s := v.reading.State; most < 2 || s != Illegal && s != Unsure || v.observation.Stopped() {
		return
	}
	more := v.search.Sequences(pos, most, v.hypotheses)
	classify.WeighKinds(v.observation, v.tracker.Known, more)
	more = v.alsoLawful(more)
	if len(more) == 0 || more[0].Posterior <= v.hypotheses[0].Posterior {
		return
	}
	v.hypotheses = append(v.hypotheses, more...)
	v.concludeAnew(pos)
}

// concludeAnew concludes from hypotheses some of which are new, or were weighed again.
func (v *decision) concludeAnew(pos *chess.Position) {
	hypothesis.Sort(v.hypotheses)
	v.reading, v.isLawless = Reading{}, v.hypotheses[0].State == Illegal
	v.conclude(pos)
}

// alsoLawful adds, for hypotheses that break a rule and end at the board of some plies, these
// with the places that were found for the pieces. Both stay open.
func (v *decision) alsoLawful(more []hypothesis.Hypothesis) []hypothesis.Hypothesis {
	for k := range v.hypotheses {
		if g := inference.LawfulAs(v.hypotheses[k], more); v.hypotheses[k].State == Illegal && g.State != Illegal {
			more = append(more, g)
		}
	}
	hypothesis.Sort(more)
	return more
}

// weighEarlier adds what earlier pictures say to the evidence of the lawful hypotheses: each
// saw the board somewhere on the way, or an odd state. Others say that nothing was played. They
// are not asked to what pawns were promoted: outlines tell kinds badly, and three pictures that
// err alike would outvote the heads.
func (v *decision) weighEarlier(pos *chess.Position, all []*tracking.Glimpse) {
	if s := v.reading.State; s != Illegal && s != Unsure && s != Several || v.observation.Stopped() {
		return
	}
	var lawful []*hypothesis.Hypothesis
	for k := range v.hypotheses {
		if g := &v.hypotheses[k]; g.IsLawful() && len(lawful) < recalled {
			lawful = append(lawful, g)
		}
	}
	asked := tracking.Ask(all, v.tracker, lawful, pos, v.observation)
	if len(asked) == 0 {
		return
	}
	none, said := tracking.PathEvidence(asked, pos, nil), map[scene.Occupancy]nats.LogEvidence{}
	for _, g := range lawful {
		is := tracking.OrderBy(g, asked, pos) - none
		if before, ok := said[g.Kin()]; !ok || is > before {
			said[g.Kin()] = is
		}
	}
	for k := range v.hypotheses {
		if g := &v.hypotheses[k]; g.IsLawful() {
			g.Posterior += nats.LogPosterior(said[g.Kin()])
		}
	}
	v.concludeAnew(pos)
}

// enumerate lists the hypotheses.
func (v *decision) enumerate(pos *chess.Position) {
	v.hypotheses = hypothesis.Enumerate(pos, v.expected)
	if v.observation.Model.Phase() == background.Meeting {
		hypothesis.FavourSaid(v.hypotheses)
	}
}

// weighLawful weighs those that rules allow.
func (v *decision) weighLawful() { v.search.Best(v.hypotheses) }

// displace looks from the two that lead for pieces where no rule puts them.
func (v *decision) displace() {
	gs := v.hypotheses
	for _, from := range [2]int{0, 1} {
		if from < len(gs) && gs[from].Posterior > gs[0].Posterior-hypothesis.Followed {
			if s, ok := v.search.Displaced(gs[from]); ok && !isHollow(v.observation, &s) {
				gs = append(gs, inference.LawfulAs(s, gs))
			}
		}
	}
	hypothesis.Sort(gs)
	v.hypotheses, v.isLawless = gs, gs[0].State == Illegal
}

// isHollow says whether a piece that a hypothesis has come to where no rule puts it has surely
// no head: light passes for a body, not for that.
func isHollow(o *likelihood.Observation, g *hypothesis.Hypothesis) bool {
	return slices.ContainsFunc(g.Stood, func(m scene.Placement) bool {
		return m.Nudged == nil && !m.Lies && o.Scene.Board[m.Square] == chess.NoPiece && classify.Attests(o, g, m.Square) > certain
	})
}

// adjust adds those with pieces set straight that hardly look touched.
func (v *decision) adjust() {
	v.hypotheses = append(v.hypotheses, v.search.Adjusted(v.hypotheses)...)
}

// classify weighs the kinds of a promotion by the heads.
func (v *decision) classify() {
	classify.WeighKinds(v.observation, v.tracker.Known, v.hypotheses)
	hypothesis.Sort(v.hypotheses)
}

// addFallen adds the likeliest with a piece of it fallen, if that is likelier still.
func (v *decision) addFallen() {
	if f, ok := v.search.Fallen(&v.hypotheses[0]); ok {
		v.hypotheses = append(v.hypotheses, f)
		hypothesis.Sort(v.hypotheses)
	}
}

// addLying adds the head of the list, and the likeliest with a move half done, with the pieces
// that are missing lying somewhere, if that is likelier than all others: what lies over the
// board passes for a piece displaced or touched. Several plies are looked for before.
func (v *decision) addLying(pos *chess.Position) {
	before := len(v.hypotheses)
	heads := []int{0, slices.IndexFunc(v.hypotheses, func(g hypothesis.Hypothesis) bool { return g.State == Partial })}
	for _, k := range slices.Compact(heads) {
		if k < 0 || v.hypotheses[0].State != Illegal && v.hypotheses[0].State != Partial {
			continue
		}
		f, ok := v.search.Lying(&v.hypotheses[k])
		if ok && len(lainOn(&v.tracker.Setup, &f)) == 0 { // taken off and laid beside the board
			f = inference.LawfulAs(f, v.hypotheses)
		}
		if ok && f.Posterior > v.hypotheses[0].Posterior {
			v.hypotheses = append(v.hypotheses, f)
		}
	}
	if len(v.hypotheses) > before {
		v.concludeAnew(pos)
	}
}

// believe turns posteriors into beliefs.
func (v *decision) believe() {
	hypothesis.Normalise(v.hypotheses)
	v.isLawless = v.isLawless || v.hypotheses[0].IsStrained()
}

// attend looks for pieces set straight besides, where the reading is given out.
func (v *decision) attend() {
	if v.reading.isFinished() {
		v.search.Attend(&v.hypotheses[0])
	}
}

// measure says where the pieces of the best hypothesis stand in their squares.
func (v *decision) measure() {
	v.reading.Offsets = nil
	if v.reading.State == Unsure || v.reading.State == Hand {
		return
	}
	e, best := v.tracker, &v.hypotheses[0]
	var at [64]*Offset
	for k, m := range v.pieces {
		if !best.Gone[k] {
			at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: m.Sigma}
		}
	}
	for k, m := range best.Stood {
		if m.Lies {
			continue
		}
		sigma := v.search.PlacedSigma(best, k)
		at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: sigma}
	}
	for _, o := range at {
		if o != nil {
			v.reading.Offsets = append(v.reading.Offsets, *o)
		}
	}
}

// read fills the reading from the hypotheses and from what they leave unexplained.
func (v *decision) read(before scene.Occupancy) {
	best := &v.hypotheses[0]
	r := &v.reading
	r.State, r.Belief = best.State, v.belief(best.State, best.Move)
	r.Squares = scene.Merge(scene.Differing(before, best.After), lainOn(&v.tracker.Setup, best))
	if best.State == Moved {
		r.Move = best.Move
	}
	if best.State == Several {
		r.Plies = pliesOf(best)
	}
	if best.State != Illegal {
		v.checkLines(best)
		v.checkSeen(best)
	}
	v.withhold()
	v.checkResiduals(best)
	v.isLawless = v.isLawless || r.State == Illegal
	v.withhold()
	r.Belief *= trust
	for k := range r.Plies {
		r.Plies[k].Belief *= r.Belief
	}
	if r.State == Unsure || r.State == Moved {
		r.Candidates = v.candidates()
	}
}

// lainOn lists the squares on which pieces lie under a hypothesis, not beside the board.
func lainOn(of *scene.Setup, g *hypothesis.Hypothesis) (on []chess.Square) {
	for k := range g.Stood {
		if m := &g.Stood[k]; m.Lies && !of.IsBeside(m.At) {
			on = scene.Merge(on, []chess.Square{m.Square})
		}
	}
	return on
}

// hasLain says whether such a piece lies on the board under the best hypothesis.
func (v *decision) hasLain(p chess.Piece) bool {
	return slices.ContainsFunc(v.hypotheses[0].Stood, func(m scene.Placement) bool { return m.Lies && m.Piece == p })
}

// withhold makes a reading unsure of which there is too little belief.
func (v *decision) withhold() {
	if r := &v.reading; r.Belief < leastBelief(r.State) {
		r.doubt(Unsure, r.Belief)
	}
}

// checkLines looks for a piece of the hypothesis that stands on a line.
func (v *decision) checkLines(best *hypothesis.Hypothesis) {
	q, r := v.search, &v.reading
	evidence := q.Evidence(best.Gone, best.Stood)
	for k := range best.Stood {
		m := &best.Stood[k]
		if m.Relit || m.Lies {
			continue
		}
		over := (q.Scene.Setup.Aside(m.Square, m.At) - scene.OnLine) * q.Scene.Setup.Square
		sigma := q.Sigma(best.Gone, best.Stood, k, evidence)
		share := 0.5 * math.Erfc(-over/(sigma*math.Sqrt2)) // normal distribution
		switch {
		case share > 0.5:
			r.doubt(Illegal, r.Belief*share)
			r.Squares = scene.Merge(r.Squares, []chess.Square{m.Square})
		default:
			r.Belief *= 1 - share
		}
	}
}

// checkStaying doubts a move beside which another may have been played: one was doubted
// before, and a piece that should have stayed is hardly seen.
func (v *decision) checkStaying() {
	best := &v.hypotheses[0]
	if s := v.reading.State; s != Moved && s != Several {
		return
	}
	for k := range v.pieces {
		if !best.Gone[k] && v.observation.Seen(&v.pieces[k]) < leastSeen {
			v.reading.Belief = math.Min(v.reading.Belief, likely)
			v.withhold()
			v.reading.Candidates = v.candidates()
			return
		}
	}
}

// checkSeen doubts a move to a place that is hardly seen: where a lamp's reflection drowns it, that
// a piece was taken away is no sign of where it went. So it does to a kind that nobody expects.
func (v *decision) checkSeen(best *hypothesis.Hypothesis) {
	isHidden := func(m scene.Placement) bool { return m.Nudged == nil && v.observation.Seen(&m) < leastSeen }
	if slices.ContainsFunc(best.Stood, isHidden) || best.Move != v.expected && !best.IsKindSeen(v.hypotheses) {
		v.reading.Belief = math.Min(v.reading.Belief, likely)
	}
}

// belief sums the probability of all hypotheses that say the same: of several plies, what
// stands on the board afterwards.
func (v *decision) belief(s State, m chess.Move) float64 {
	sum := 0.0
	for _, g := range v.hypotheses {
		if g.State == s && (s != Moved || g.Move == m) && (s != Several || g.After == v.hypotheses[0].After) {
			sum += float64(g.Belief)
		}
	}
	return sum
}

// checkResiduals looks at what the hypotheses leave unexplained.
func (v *decision) checkResiduals(best *hypothesis.Hypothesis) {
	q, r := v.search, &v.reading
	foot := q.Scene.Setup.LeastBase() * 1e6
	v.residuals = q.Residuals(best)
	left := slices.Clone(v.residuals)
	if usual(left) > inference.LeavesDoubt*foot {
		left = slices.DeleteFunc(left, inference.Residual.IsOnPiece)
	}
	left = slices.DeleteFunc(left, func(p inference.Residual) bool { return p.IsShadow(&q.Conditions) })
	common := usual(left)
	for _, p := range left {
		odd := p.Inside
		switch {
		case p.IsOnPiece() && p.AtBase:
			odd -= 2 * common // nobody remembers how it looks
		case p.IsOnPiece():
			odd -= common
		}
		switch {
		case odd > 0.7*foot:
			sure := certainly(odd / foot)
			if r.State == Illegal { // whatever lies there, it is so already
				sure = math.Max(sure, r.Belief)
			}
			r.doubt(Illegal, sure)
			r.Squares = scene.Merge(r.Squares, p.Squares)
		case odd > inference.LeavesDoubt*foot && r.State != Illegal:
			r.Belief = math.Min(r.Belief, 0.9)
		}
	}
}

// usual is how much more than as many pieces show unexplained as a person can
// have touched, mm²: that much is the lamp's doing on any piece.
func usual(left []inference.Residual) float64 {
	n := 0
	for _, p := range left { // largest first
		if p.IsOnPiece() {
			if n++; n == many {
				return p.Inside
			}
		}
	}
	return 0
}

// certainly is how sure a patch of so many bases is something.
func certainly(feet float64) float64 { return 1 - 0.5*math.Exp(-2*feet) }

// candidates are the finished moves and no change, each once with the belief of all hypotheses
// that say so, the best first; none of which so little is believed that two digits show nothing.
func (v *decision) candidates() []Candidate {
	const most = 5
	var out []Candidate
	for _, g := range v.hypotheses {
		if g.State != Moved && g.State != Same {
			continue
		}
		k := slices.IndexFunc(out, func(c Candidate) bool { return c.Move == g.Move })
		if k < 0 {
			k, out = len(out), append(out, Candidate{Move: g.Move})
		}
		out[k].Belief += float64(g.Belief)
	}
	slices.SortStableFunc(out, func(a, b Candidate) int { return cmp.Compare(b.Belief, a.Belief) })
	out = slices.DeleteFunc(out, func(c Candidate) bool { return math.Round(100*c.Belief) == 0 })
	return out[:min(most, len(out))]
}

// pliesOf are the plies of a hypothesis in their likeliest order, each with the share of
// the orders that have it there.
func pliesOf(g *hypothesis.Hypothesis) []Ply {
	shares := g.Shares
	if shares == nil {
		shares = slices.Repeat([]float64{1}, len(g.Orders))
	}
	out, all := make([]Ply, len(g.Orders[0])), 0.0
	for _, share := range shares {
		all += share
	}
	for k, m := range g.Orders[0] {
		sum := 0.0
		for n, o := range g.Orders {
			if o[k] == m {
				sum += shares[n]
			}
		}
		out[k] = Ply{Move: m, Belief: sum / all}
	}
	return out
}
