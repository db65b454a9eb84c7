// SPDX-License-Identifier: Apache-2.0

package tracking

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
)

// Glimpse is a picture since the last accepted position that was not agreed upon. What it says
// of boards is asked later, when it is known of which.
type Glimpse struct {
	Raw   *pixels.Image
	Hands []*occlusion.Occluder

	by     *Tracker // that the rest was found with
	search *inference.Search
	room   *likelihood.Observation // for the search
	odd    nats.LogEvidence
	boards map[scene.Occupancy]nats.LogEvidence
}

// Ask asks glimpses, as a tracker sees them, about all boards on the ways of some hypotheses, and
// returns those that can tell. Each is asked by itself and all at once, for what it is asked with takes
// 10 MB, in the room of an observation that has been weighed; its answers are kept.
func Ask(all []*Glimpse, e *Tracker, gs []*hypothesis.Hypothesis, pos *chess.Position, room *likelihood.Observation) (asked []*Glimpse) {
	for _, g := range all {
		if !g.isSeenBy(e) {
			continue
		}
		g.room = room
		PathEvidence([]*Glimpse{g}, pos, nil)
		for _, h := range gs {
			for _, plies := range waysOf(h) {
				PathEvidence([]*Glimpse{g}, pos, plies)
			}
		}
		if g.search != nil {
			room = g.search.Observation
		}
		g.search, g.room = nil, nil
		asked = append(asked, g)
	}
	return asked
}

// isSeenBy prepares to ask what a glimpse says, as a tracker sees it; false where the camera
// hung otherwise.
func (g *Glimpse) isSeenBy(e *Tracker) bool {
	if g.by == e && g.boards != nil {
		return true
	}
	g.by, g.search, g.boards = e, nil, map[scene.Occupancy]nats.LogEvidence{}
	if len(g.Raw.L) != e.Plane.W*e.Plane.H {
		return false
	}
	_, moved, good := e.Settled(g.Raw)
	return moved <= register.Still && good >= register.Some
}

// waysOf are the plies of a hypothesis, in the orders that glimpses are asked about.
func waysOf(h *hypothesis.Hypothesis) [][]chess.Move {
	if h.State == hypothesis.Moved {
		return [][]chess.Move{{h.Move}}
	}
	return h.Orders[:min(len(h.Orders), ordersRecalled)]
}

// of is what a glimpse says of a board.
func (g *Glimpse) of(board scene.Occupancy) nats.LogEvidence {
	if v, ok := g.boards[board]; ok {
		return v
	}
	if g.search == nil {
		o := g.by.ObservePast(g.Raw, g.Hands)
		if len(g.Hands) == 0 {
			o = g.by.Observe(g.Raw, false)
		}
		o.TakeRoom(g.room)
		g.search = inference.New(o)
		g.odd = g.search.OddEvidence()
	}
	v := g.search.BoardEvidence(board)
	g.boards[board] = v
	return v
}

// OrderBy puts the orders of a hypothesis by what pictures say, and gives that of all together.
func OrderBy(g *hypothesis.Hypothesis, asked []*Glimpse, pos *chess.Position) nats.LogEvidence {
	if g.State == hypothesis.Moved {
		return PathEvidence(asked, pos, []chess.Move{g.Move})
	}
	type order struct {
		plies []chess.Move
		says  float64
	}
	var all []order
	for _, o := range waysOf(g) {
		all = append(all, order{o, float64(PathEvidence(asked, pos, o))})
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

// PathEvidence is what pictures say of some plies from a position.
func PathEvidence(asked []*Glimpse, pos *chess.Position, plies []chess.Move) nats.LogEvidence {
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
