// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/presence"
	"boardhand/internal/sight/scene"
)

// demandProof asks for a proof of a reading while the position has not been proved:
// of what was read, or of the position if no rule explained the picture. What
// does not hold is not given out.
func (v *decision) demandProof() {
	k := 0
	if !v.reading.isFinished() {
		k = v.announced()
	}
	if k < 0 || v.isCovered() {
		v.refuseCovered()
		return
	}
	p := v.proofOf(k)
	if len(p.Things) > 0 && k == v.announced() {
		v.things = p.Things
	}
	if !p.Holds() && len(p.Wrong) > 0 {
		if n := v.matching(&p); n >= 0 && n != k && v.hypotheses[n].State == Moved {
			if other := v.proofOf(n); other.Holds() {
				k, p = n, other
			}
		}
	}
	if v.hypotheses[k].State == Same { // it may be a piece all the same, as long as nobody plays around it
		p.Wrong = scene.Merge(p.Wrong, p.Lain)
	}
	if !p.Holds() {
		v.refuse(&p)
		return
	}
	if x := v.lineUp(&v.hypotheses[k]).Exchanged(); x.Belief > likely {
		v.reading, v.isLawless = Reading{State: Illegal, Belief: trust * x.Belief, Squares: scene.Merge(nil, x.Squares[:])}, true
		return
	}
	v.accept(k, p.Belief)
	v.lain = p.Lain
}

// placed is where the pieces of a hypothesis stand.
func (v *decision) placed(g *hypothesis.Hypothesis) []scene.Placement {
	var out []scene.Placement
	for k := range v.pieces {
		if len(g.Gone) == 0 || !g.Gone[k] {
			out = append(out, v.pieces[k])
		}
	}
	return append(out, g.Stood...)
}

// announced is the hypothesis that the position stands on the board.
func (v *decision) announced() int {
	return slices.IndexFunc(v.hypotheses, func(g hypothesis.Hypothesis) bool { return g.State == Same })
}

// isCovered says whether something much larger than a piece lies on the field.
func (v *decision) isCovered() bool {
	square := v.tracker.Setup.Square * v.tracker.Setup.Square * 1e6
	return slices.ContainsFunc(v.residuals, func(p inference.Residual) bool { return p.Inside > square && !p.IsShadow(&v.observation.Conditions) })
}

// refuseCovered refuses to read a board over which something large lies.
func (v *decision) refuseCovered() {
	if v.reading.isFinished() {
		v.reading = Reading{State: Unsure, Belief: 1 - likely, Squares: squaresUnder(v.residuals), Candidates: v.candidates()}
	}
}

// proofOf is the proof of a hypothesis.
func (v *decision) proofOf(k int) presence.Proof { return v.inspection(&v.hypotheses[k]).Prove() }

// matching is the hypothesis whose board a proof has seen, kinds apart; −1: none.
func (v *decision) matching(p *presence.Proof) int {
	return slices.IndexFunc(v.hypotheses, func(g hypothesis.Hypothesis) bool {
		for s, a := range g.After {
			b := p.Seen[s]
			if (a == chess.NoPiece) != (b == chess.NoPiece) || a != chess.NoPiece && a.Color() != b.Color() {
				return false
			}
		}
		return true
	})
}

// accept makes a proved hypothesis the reading.
func (v *decision) accept(k int, belief float64) {
	v.hypotheses[0], v.hypotheses[k] = v.hypotheses[k], v.hypotheses[0]
	g := &v.hypotheses[0]
	r := Reading{State: g.State, Belief: trust * belief}
	if k == 0 {
		r.Offsets = v.reading.Offsets
	}
	if g.State == Moved {
		r.Move, r.Squares, r.Candidates = g.Move, scene.Differing(v.tracker.Board, g.After), v.candidates()
	}
	if g.State == Several {
		r.Plies, r.Squares = pliesOf(g), scene.Differing(v.tracker.Board, g.After)
	}
	v.reading, v.isLawless = r, false
}

// refuse gives out what speaks against a board.
func (v *decision) refuse(p *presence.Proof) {
	r := &v.reading
	if len(p.Wrong) == 0 {
		if r.isFinished() {
			*r = Reading{State: Unsure, Belief: trust * p.Belief, Squares: p.Doubt, Candidates: v.candidates()}
		}
		return
	}
	state := Illegal
	if n := v.matching(p); n >= 0 && v.hypotheses[n].State == Partial {
		state = Partial
	}
	*r = Reading{State: state, Belief: trust * likely, Squares: p.Wrong}
	v.isLawless = state == Illegal
}

// inspection looks at the decision's picture with the pieces of a hypothesis.
func (v *decision) inspection(g *hypothesis.Hypothesis) *presence.Inspection {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range v.placed(g) {
		at[m.Square] = m.At
	}
	w := v.tracker.Inspect(v.observation.Image, v.observation.Grey, g.After, at)
	w.Raw, w.Lain = v.observation.Raw, v.things
	return w
}

// lineUp is how the pieces of a hypothesis look beside each other.
func (v *decision) lineUp(g *hypothesis.Hypothesis) classify.Lineup {
	return classify.LineUp(v.observation, v.placed(g))
}

// squaresUnder lists the squares that residuals cover.
func squaresUnder(left []inference.Residual) []chess.Square {
	var out []chess.Square
	for _, p := range left {
		out = scene.Merge(out, p.Squares)
	}
	return out
}
