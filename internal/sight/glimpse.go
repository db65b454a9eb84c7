// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
)

// glimpse is a picture since the last accepted position that was not agreed upon. What it says
// of boards is asked later, when it is known of which.
type glimpse struct {
	raw   *pixels.Image
	hands []*occlusion.Occluder

	by     *tracker // that the rest was found with
	search *inference.Search
	odd    nats.LogEvidence
	boards map[scene.Occupancy]nats.LogEvidence
}

// noteGlimpse keeps the last picture if it was not agreed upon, and drops those before once
// one was.
func (r *Reader) noteGlimpse(got Reading) {
	switch s := r.last; {
	case got.State == Same:
		r.glimpses = nil
	case r.several < 2 || got.isFinished() || s == nil || s.hand != nil && len(s.hand.Squares) > openHand:
	case r.unproved():
		r.glimpses = nil
	default:
		g := &glimpse{raw: s.raw}
		if s.hand != nil {
			g.hands = []*occlusion.Occluder{s.hand}
		}
		keep := r.glimpses
		if n := len(keep); n > 0 && r.looksLike(keep[n-1], s.raw) {
			keep = keep[:n-1]
		}
		r.glimpses = append(slices.Clone(keep[max(0, len(keep)-mostGlimpses+1):]), g)
	}
}

// looksLike says whether a picture looks as one kept before.
func (r *Reader) looksLike(g *glimpse, raw *pixels.Image) bool {
	return len(g.raw.L) == len(raw.L) && occlusion.Changed(&r.tracker.Scene, r.compare(raw, g.raw)) < againArea
}

// ask prepares to ask what a glimpse says, as a tracker sees it; false where the camera hung
// otherwise.
func (g *glimpse) ask(e *tracker) bool {
	if g.by == e && g.boards != nil {
		return true
	}
	g.by, g.search, g.boards = e, nil, map[scene.Occupancy]nats.LogEvidence{}
	if len(g.raw.L) != e.Plane.W*e.Plane.H {
		return false
	}
	_, moved, good := e.settled(g.raw)
	return moved <= register.Still && good >= register.Some
}

// of is what a glimpse says of a board.
func (g *glimpse) of(board scene.Occupancy) nats.LogEvidence {
	if v, ok := g.boards[board]; ok {
		return v
	}
	if g.search == nil {
		o := g.by.observePast(g.raw, g.hands)
		if len(g.hands) == 0 {
			o = g.by.observe(g.raw, false)
		}
		g.search = inference.New(o)
		g.odd = g.search.OddEvidence()
	}
	v := g.search.BoardEvidence(board)
	g.boards[board] = v
	return v
}

// weighEarlier adds what earlier pictures say to the evidence of the lawful hypotheses: each
// saw the board somewhere on the way, or an odd state. Others say that nothing was played.
func (v *decision) weighEarlier(pos *chess.Position, all []*glimpse) {
	if s := v.reading.State; s != Illegal && s != Unsure && s != Several || v.observation.Stopped() {
		return
	}
	var asked []*glimpse
	for _, g := range all {
		if g.ask(v.tracker) {
			asked = append(asked, g)
		}
	}
	if len(asked) == 0 {
		return
	}
	none, n := pathEvidence(asked, pos, nil), 0
	for k := range v.hypotheses {
		g := &v.hypotheses[k]
		if g.State != Moved && g.State != Several {
			continue
		}
		if n++; n > recalled {
			break
		}
		g.Posterior += nats.LogPosterior(orderBy(g, asked, pos) - none)
	}
	for _, g := range asked {
		g.search = nil // 20 MB; what was asked is kept
	}
	hypothesis.Sort(v.hypotheses)
	v.reading, v.isLawless = Reading{}, v.hypotheses[0].State == Illegal
	v.conclude(pos)
}

// orderBy puts the orders of a hypothesis by what pictures say, and gives that of all together.
func orderBy(g *hypothesis.Hypothesis, asked []*glimpse, pos *chess.Position) nats.LogEvidence {
	if g.State == Moved {
		return pathEvidence(asked, pos, []chess.Move{g.Move})
	}
	type order struct {
		plies []chess.Move
		says  float64
	}
	var all []order
	for _, o := range g.Orders[:min(len(g.Orders), ordersRecalled)] {
		all = append(all, order{o, float64(pathEvidence(asked, pos, o))})
	}
	slices.SortStableFunc(all, func(a, b order) int {
		if a.says > b.says {
			return -1
		}
		if a.says < b.says {
			return 1
		}
		return 0
	})
	sum := 0.0
	g.Orders, g.Shares = nil, nil
	for _, o := range all {
		share := math.Exp(o.says - all[0].says)
		g.Orders, g.Shares, sum = append(g.Orders, o.plies), append(g.Shares, share), sum+share
	}
	return nats.LogEvidence(all[0].says + math.Log(sum/float64(len(all))))
}

// pathEvidence is what pictures say of some plies from a position.
func pathEvidence(asked []*glimpse, pos *chess.Position, plies []chess.Move) nats.LogEvidence {
	boards := []scene.Occupancy{scene.OccupancyOf(pos)}
	for now, k := *pos, 0; k < len(plies); k++ {
		now = now.After(plies[k])
		boards = append(boards, scene.OccupancyOf(&now))
	}
	pictures := make([]inference.Stages, len(asked))
	for n, g := range asked {
		for _, b := range boards {
			pictures[n].Boards = append(pictures[n].Boards, g.of(b))
		}
		pictures[n].Odd = g.odd
	}
	return inference.PathEvidence(pictures)
}
